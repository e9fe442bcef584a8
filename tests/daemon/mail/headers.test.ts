import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { simpleParser } from "mailparser";
import { expect, test } from "vitest";
import { composeLetter } from "../../../daemon/letters/compose.js";
import { letterFileName, slugOf } from "../../../daemon/mail/letter-file.js";
import { CONTEXT, finding, QUILLMERE } from "../letters/quillmere.js";
import { ANN, BO, CLOSING, OPENING, openHouse, serverOf } from "./house.js";
import { openInbox } from "./inbox.js";
import { until } from "./told-time.js";

test("a letter carries the headers of an automatic, threaded mail", async () => {
  const inbox = await openInbox();
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  house.time.pass(180_000);
  house.store.letters.queue(CLOSING, [ANN]);
  house.start(serverOf(inbox));
  await until("both came", () => inbox.arrived.length === 2);
  const [opening, closing] = inbox.arrived.map(({ mail }) => mail);
  // RFC 3834 section 5: "Auto-Submitted: auto-generated" marks mail that a program sent unasked.
  expect(opening!.headers.get("auto-submitted")).toBe("auto-generated");
  expect(closing!.headers.get("auto-submitted")).toBe("auto-generated");
  // RFC 5322 section 3.6.4: a reply names its parent in In-Reply-To and References.
  expect(opening!.inReplyTo).toBeUndefined();
  expect(opening!.references).toBeUndefined();
  expect(closing!.inReplyTo).toBe(opening!.messageId);
  expect(closing!.references).toBe(opening!.messageId);
  expect(closing!.messageId).not.toBe(opening!.messageId);
  // RFC 5322 section 3.6.1: Date is when the author finished it, not when it was sent.
  expect(opening!.date?.getTime()).toBe(OPENING.createdAtMs);
  expect(opening!.from?.text).toContain("drowse@example.org");
  await inbox.close();
});

test("both bodies and a site name beyond ASCII come through whole", async () => {
  const inbox = await openInbox();
  const house = openHouse();
  const chamber = { ...QUILLMERE.chambers[0]!, id: "Kühlkeller 北" };
  const site = { ...QUILLMERE, name: "Žabí Mlýn – Größe № 5", chambers: [chamber] };
  const letter = composeLetter(finding({ chamberId: chamber.id }), { ...CONTEXT, site })!;
  house.store.letters.queue(letter, [ANN]);
  house.start(serverOf(inbox));
  await until("it came", () => inbox.arrived.length === 1);
  const { raw, mail } = inbox.arrived[0]!;
  expect(mail.subject).toBe("Shut the fridge door: Kühlkeller 北");
  expect(mail.text?.trimEnd()).toBe(letter.text.trimEnd());
  expect(mail.html).toContain("Žabí Mlýn – Größe № 5");
  const header = raw.slice(0, raw.indexOf("\r\n\r\n"));
  // RFC 2047: header text beyond ASCII travels as encoded words, so the header itself is ASCII.
  expect(header).toMatch(/^Subject: .*=\?UTF-8\?[BQ]\?/im);
  expect([...header].every((character) => character.charCodeAt(0) < 128)).toBe(true);
  // RFC 5322 section 2.1.1: no line is longer than 998 characters.
  expect(Math.max(...raw.split("\r\n").map((line) => line.length))).toBeLessThanOrEqual(998);
  await inbox.close();
});

test("without a mail server each letter becomes one .eml file for all its keepers", async () => {
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN, BO]);
  house.time.pass(180_000);
  house.store.letters.queue(CLOSING, [ANN, BO]);
  house.start(null);
  await until("all is sent", () => house.store.letters.nextDueAtMs() === null);
  const files = readdirSync(house.folder);
  expect(files).toEqual([letterFileName(OPENING), letterFileName(CLOSING)]);
  expect(files[0]).toMatch(/^2026-01-11T03-15-00Z-shut-the-fridge-door-shed-[0-9a-f]{6}\.eml$/);
  const mail = await simpleParser(readFileSync(join(house.folder, files[1]!)));
  expect(mail.inReplyTo).toBe(OPENING.messageId);
  expect(
    [mail.to]
      .flat()
      .map((to) => to?.text)
      .join(),
  ).toBe(`${ANN}, ${BO}`);
  expect(mail.headers.get("auto-submitted")).toBe("auto-generated");
  expect(house.store.letters.undelivered()).toEqual([]);
});

test("a letters folder that cannot be written is trouble, and tried again", async () => {
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  // A folder cannot be made beneath a file.
  house.start(null, { folder: "/dev/null/letters" });
  await until("the turn is over", house.isAtRest);
  expect(house.store.board.read("mail-trouble")).toContain("LETTER_NOT_WRITTEN");
  expect(house.store.letters.undelivered()[0]).toMatchObject({ attempts: 1, givenUpAtMs: null });
});

test("a subject becomes a file name of plain words", () => {
  expect(slugOf("Shut the fridge door: Kühlkeller/../etc")).toBe(
    "shut-the-fridge-door-kuhlkeller-etc",
  );
  expect(slugOf("北")).toBe("");
});
