import { once } from "node:events";
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { simpleParser } from "mailparser";
import { expect, onTestFinished, test } from "vitest";
import { runDrowse, startDrowse } from "../../command.js";
import { testFolder } from "../config/written-config.js";

const CONFIG = ["--config", "state/rehearsal.toml"];

test("a door left ajar becomes a letter that lies where it says", async () => {
  const folder = testFolder();
  const rehearsal = startDrowse(["rehearse", "--speed", "600"], folder);
  await rehearsal.untilPrints(/npm start -- --config drowse\.toml/);
  await rehearsal.untilPrints(/\(the door is left ajar\)/);
  const [, subject, file] = await rehearsal.untilPrints(/letter: (.*door.*)\n +(\S+\.eml)/i);
  const mail = await simpleParser(readFileSync(join(folder, file!)));
  expect(mail.subject).toBe(subject);
  // RFC 3834, section 5.2.
  expect(mail.headers.get("auto-submitted")).toBe("auto-generated");

  const now = JSON.parse((await runDrowse(["now", "--json", ...CONFIG], folder)).stdout);
  expect(now.chambers[0].cocoonC).toEqual(expect.any(Number));
  const [address] = /http:\/\/127\.0\.0\.1:\d+\//.exec(rehearsal.printed())!;
  const page = await fetch(address!);
  expect(await page.text()).toContain("How the cocoons are");
  expect(now.probes.map((probe: { id: string }) => probe.id)).toEqual(["shed-air", "shed-box"]);
  expect(now.probes.every((probe: { heardAt: string | null }) => probe.heardAt !== null)).toBe(
    true,
  );

  rehearsal.child.kill("SIGINT");
  expect(await rehearsal.ended).toMatchObject({ code: 0, stderr: "" });
  expect(readdirSync(join(folder, "state"))).toContain("drowse.db");
  // Closed cleanly: SQLite removes its log when the last connection closes.
  expect(readdirSync(join(folder, "state"))).not.toContain("drowse.db-wal");
}, 60_000);

test("--for ends it by itself, and the next one begins afresh", async () => {
  const folder = testFolder();
  const letters = join(folder, "state", "letters");
  expect((await runDrowse(["rehearse", "--for", "1"], folder)).code).toBe(0);
  mkdirSync(letters, { recursive: true });
  writeFileSync(join(letters, "old.eml"), "");
  expect((await runDrowse(["rehearse", "--for", "1"], folder)).code).toBe(0);
  expect(existsSync(join(letters, "old.eml"))).toBe(false);
});

test("it never touches a real store", async () => {
  const folder = testFolder();
  mkdirSync(join(folder, "state"));
  writeFileSync(join(folder, "state", "drowse.db"), "a real winter");
  const { code, stderr } = await runDrowse(["rehearse", "--for", "1"], folder);
  expect(code).toBe(1);
  expect(stderr).toMatch(/^drowse: REHEARSAL_REFUSED: .*state holds a real store/);
  expect(readFileSync(join(folder, "state", "drowse.db"), "utf8")).toBe("a real winter");
});

test("it finds another port where the usual one is taken", async () => {
  const usual = createServer();
  usual.listen(1883, "127.0.0.1");
  // Another program that has it already does as well; `once` rejects then.
  await once(usual, "listening").catch(() => {});
  onTestFinished(() => void usual.close());
  const { code, stdout } = await runDrowse(["rehearse", "--for", "1"], testFolder());
  expect(code).toBe(0);
  expect(Number(/mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(stdout)![1])).not.toBe(1883);
});
