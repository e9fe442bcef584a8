import { readFileSync } from "node:fs";
import { simpleParser } from "mailparser";
import { expect, onTestFinished, test } from "vitest";
import { runDrowse } from "../../command.js";
import { mailTo, PLAIN, writeFiles } from "../config/written-config.js";
import { answer, openInbox } from "../mail/inbox.js";

async function inbox(...options: Parameters<typeof openInbox>) {
  const server = await openInbox(...options);
  onTestFinished(() => server.close());
  return server;
}

test("without a mail server the trial letter is a file, and its place is said", async () => {
  const folder = writeFiles({ "drowse.toml": PLAIN });
  const { code, stdout } = await runDrowse(["ring", "--json"], folder);
  expect(code).toBe(0);
  const mail = await simpleParser(readFileSync(JSON.parse(stdout).file));
  expect(mail.headers.get("auto-submitted")).toBe("auto-generated");
  expect(mail.text).toContain("Quillmere shed");
});

test("with one, the letter goes there over TLS and the answer is said", async () => {
  const server = await inbox();
  const files = { "drowse.toml": `${PLAIN}${mailTo(server.port)}`, "ca.pem": server.ca };
  const { code, stdout } = await runDrowse(["ring"], writeFiles(files));
  expect(code).toBe(0);
  expect(stdout).toMatch(/^keeper@quillmere\.example: .*127\.0\.0\.1:\d+ took the letter over/);
  expect(server.arrived).toHaveLength(1);
  expect(server.arrived[0]).toMatchObject({ keeper: "keeper@quillmere.example", secure: true });
});

test("a server that refuses is quoted, and the exit code is 1", async () => {
  const onRcptTo = (_to: unknown, _session: unknown, done: (error: Error) => void) =>
    done(answer(550, "no such keeper here"));
  const server = await inbox({ onRcptTo });
  const files = { "drowse.toml": `${PLAIN}${mailTo(server.port)}`, "ca.pem": server.ca };
  const { code, stdout, stderr } = await runDrowse(["ring"], writeFiles(files));
  expect(code).toBe(1);
  expect(stdout).toContain("no such keeper here");
  expect(stderr).toMatch(/^drowse: MAIL_REFUSED: 1 of 1 trial letters did not go/);
});
