import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { simpleParser } from "mailparser";
import { expect, test } from "vitest";
import { composeDigest } from "../../../daemon/digest/compose-digest.js";
import { digestFigures } from "../../../daemon/digest/figures.js";
import { judgeWeek } from "../../../daemon/digest/verdict.js";
import { composeLetter } from "../../../daemon/letters/compose.js";
import { DAYLIGHT } from "../../../daemon/letters/palette.js";
import { pictureDrawer } from "../../../daemon/mail/draw-pictures.js";
import type { Store } from "../../../daemon/store/store.js";
import type { Reading } from "../../../shared/reading.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { quietWeek, WEEK } from "../digest/week.js";
import { openPng } from "../drawing/pixels.js";
import { CONTEXT, finding, NIGHT_MS, QUILLMERE } from "../letters/quillmere.js";
import { ANN, BO, openHouse, serverOf } from "./house.js";
import { openInbox } from "./inbox.js";
import { until } from "./told-time.js";

const CONFIG = { site: QUILLMERE, temperatureUnit: "C" } as const;
const QUIET = { warn: () => {} };

/** Hours up to the night of the door: the air in its swing, then rising, the cocoons behind it. */
function night(): Reading[] {
  const readings: Reading[] = [];
  for (let atMs = NIGHT_MS - 6 * HOUR_MS; atMs <= NIGHT_MS; atMs += 5 * MINUTE_MS) {
    const risenMin = Math.max(0, (atMs - NIGHT_MS) / MINUTE_MS + 60);
    const reading = { takenAtMs: atMs, humidityPct: null };
    readings.push({ ...reading, probeId: "shed-air", temperatureC: 2 + risenMin / 6 });
    readings.push({ ...reading, probeId: "cocoons shed", temperatureC: 2.2 + risenMin / 15 });
  }
  return readings;
}

const DOOR = finding({ startedAtMs: NIGHT_MS - HOUR_MS, cocoonC: 6.2, airC: 12 });
const LETTER = composeLetter(DOOR, CONTEXT)!;

/** A house whose store holds the night, with finding and letter, in one commit. */
function houseOfTheNight(keepers = [ANN]) {
  const house = openHouse();
  const batch = { readings: night(), findings: [DOOR], letters: [LETTER], judge: null, heard: [] };
  house.store.commit(batch, keepers);
  return { ...house, draw: pictureDrawer(house.store, CONFIG, QUIET) };
}

test("a letter's row says what its picture shows, so that it can be drawn after a restart", () => {
  const house = houseOfTheNight();
  const [row] = house.store.letters.ofExcursion(LETTER.excursionId!);
  expect(row).toEqual(LETTER);
  expect(row!.pictures).toEqual([
    {
      chamberId: "shed",
      fromMs: DOOR.startedAtMs - 3 * HOUR_MS,
      // The latest that was foretold is 310 minutes away.
      toMs: NIGHT_MS + 310 * MINUTE_MS,
      asOfMs: NIGHT_MS,
      alt: "Picture: air, cocoons and humidity in shed from 23:15 on Saturday 10 January to 03:15 on Sunday 11 January, with the band of 1.1 to 3.3 °C. At 03:15 the cocoons were at 6.2 °C and the air at 12.0 °C.",
    },
  ]);
});

test("a letter brings its picture along, and its words for whoever sees none", async () => {
  const inbox = await openInbox();
  const house = houseOfTheNight([ANN, BO]);
  house.start(serverOf(inbox), { draw: house.draw });
  await until("both have it", () => inbox.arrived.length === 2);
  await inbox.close();
  for (const { mail, raw } of inbox.arrived) {
    expect(mail.attachments).toHaveLength(1);
    const [picture] = mail.attachments;
    expect(picture).toMatchObject({ contentType: "image/png", contentDisposition: "inline" });
    // RFC 2392: the cid in the HTML is the part's Content-ID without its brackets. The reader has
    // put the picture in its place, which it can only where both agree.
    expect(mail.html).toContain('<img src="data:image/png;base64,');
    expect(mail.html).toContain('alt="Picture: air, cocoons and humidity in shed from 23:15');
    // RFC 2387: HTML and what it refers to are one multipart/related.
    expect(raw).toMatch(/^Content-Type: multipart\/related/m);
    expect(raw.length).toBeLessThan(200_000);
  }
});

test("the picture shows the warmth in rust, and no other direction", async () => {
  const house = houseOfTheNight();
  const [png] = await house.draw(LETTER);
  const picture = openPng(png!);
  expect(picture.width).toBe(720);
  const counts = { warm: 0, cold: 0 };
  // The legend at the foot holds every hatching.
  for (let y = 0; y < 0.6 * picture.height; y++)
    for (let x = 0; x < picture.width; x++)
      for (const way of ["warm", "cold"] as const)
        if (picture.at(x, y) === DAYLIGHT.directions[way]) counts[way] += 1;
  expect(counts.warm).toBeGreaterThan(500);
  expect(counts.cold).toBe(0);
});

test("a letter written as a file carries its picture too", async () => {
  const house = houseOfTheNight();
  house.start(null, { draw: house.draw });
  await until("it is written", () => house.store.letters.nextDueAtMs() === null);
  const [file] = readdirSync(house.folder);
  const mail = await simpleParser(readFileSync(join(house.folder, file!)));
  expect(mail.attachments.map(({ contentType }) => contentType)).toEqual(["image/png"]);
});

test("a letter goes whole and without a trace of a picture when none can be drawn", async () => {
  const inbox = await openInbox();
  const house = houseOfTheNight();
  const broken: Store = {
    ...house.store,
    rollups: {
      ...house.store.rollups,
      hours: () => {
        throw new Error("disk I/O error");
      },
    },
  };
  const said: object[] = [];
  const warn = (fields: object) => void said.push(fields);
  house.start(serverOf(inbox), { draw: pictureDrawer(broken, CONFIG, { warn }) });
  await until("it came", () => inbox.arrived.length === 1);
  await inbox.close();
  const { mail } = inbox.arrived[0]!;
  expect(mail.attachments).toEqual([]);
  expect(mail.html).not.toContain("<img");
  expect(mail.text?.trimEnd()).toBe(LETTER.text.trimEnd());
  expect(JSON.stringify(said)).toContain("disk I/O error");
});

test("what became known after a letter was written is not in its picture", async () => {
  const house = houseOfTheNight();
  const before = await house.draw(LETTER);
  const later = night().map((reading) => ({
    ...reading,
    takenAtMs: reading.takenAtMs + 7 * HOUR_MS,
  }));
  const ended = { ...DOOR, change: "ended", atMs: NIGHT_MS + 5 * HOUR_MS } as const;
  const batch = { readings: later, findings: [ended], letters: [], judge: null, heard: [] };
  house.store.commit(batch, []);
  const after = await pictureDrawer(house.store, CONFIG, QUIET)(LETTER);
  expect(after[0]!.equals(before[0]!)).toBe(true);
});

test("the closing letter shows the whole of it, and the digest each chamber's week", () => {
  const ended = { ...DOOR, change: "ended", atMs: NIGHT_MS + 2 * HOUR_MS } as const;
  const closing = composeLetter(ended, { ...CONTEXT, earlier: [LETTER] })!;
  expect(closing.pictures).toMatchObject([
    { fromMs: DOOR.startedAtMs - 3 * HOUR_MS, toMs: ended.atMs, asOfMs: ended.atMs },
  ]);
  expect(closing.pictures[0]!.alt).toContain("In between the cocoons went from 2.3 to 2.6 °C.");
  const figures = digestFigures(quietWeek());
  const digest = composeDigest(figures, judgeWeek(figures), WEEK.toMs, CONTEXT);
  expect(digest.pictures).toMatchObject([{ chamberId: "shed", ...WEEK, asOfMs: WEEK.toMs }]);
  expect(digest.html.match(/<!--picture-\d-->/g)).toEqual(["<!--picture-0-->"]);
});

test("a probe of no chamber has a letter without a picture", () => {
  const yard = finding({ chamberId: null, probeId: "yard", cause: "probe-mute", urgency: "visit" });
  expect(composeLetter(yard, CONTEXT)!.pictures).toEqual([]);
});
