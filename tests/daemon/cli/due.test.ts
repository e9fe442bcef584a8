import { readFileSync } from "node:fs";
import { join } from "node:path";
import ICAL from "ical.js";
import { expect, test } from "vitest";
import { openStore } from "../../../daemon/store/store.js";
import { DAY_MS } from "../../../shared/time.js";
import { runDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";

/** A folder with a lot that has been in the shed for three weeks and was never looked at. */
async function keptFolder(): Promise<string> {
  const folder = writeFiles({ "drowse.toml": `${PLAIN}\n[year]\ninspect_days = 10\n` });
  openStore(join(folder, "state"), { timezone: "Europe/London" }).close();
  const inOn = new Date(Date.now() - 21 * DAY_MS).toISOString().slice(0, 10);
  await runDrowse(["lot", "add", "hedge", "--large", "8", "--in", inOn], folder);
  return folder;
}

test("what is late is told by due and by now, and as a calendar that can be read", async () => {
  const folder = await keptFolder();
  const { due, release } = JSON.parse((await runDrowse(["due", "--json"], folder)).stdout);
  expect(due[0]).toMatchObject({ kind: "inspect", isLate: true, chamberId: "shed" });
  // Mould dust and pests that must be reported: common practice, no source.
  expect(due[0].cautions.join(" ")).toMatch(/Mould dust harms lungs.*authority/);
  expect(release.word).toBe("hold");
  const page = await runDrowse(["due"], folder);
  expect(page.stdout).toMatch(
    /^What is due\n {2}Look through the boxes in shed +on .*, 11 days ago/,
  );
  expect(page.stdout).toContain("Release: hold");
  const now = await runDrowse(["now"], folder);
  expect(now.stdout).toMatch(/^due\nLook through the boxes in shed +on .* 11 days ago$/m);
  const written = await runDrowse(["due", "--ics", "due.ics"], folder);
  expect(written.stdout).toBe(`The calendar is in ${join(folder, "due.ics")}\n`);
  const calendar = new ICAL.Component(ICAL.parse(readFileSync(join(folder, "due.ics"), "utf8")));
  expect(calendar.getAllSubcomponents("vevent")).toHaveLength(due.length);
  const printed = await runDrowse(["due", "--ics", "-"], folder);
  expect(ICAL.parse(printed.stdout)[0]).toBe("vcalendar");
});

test("the digest's first line is what is late, where nothing worse was", async () => {
  const folder = await keptFolder();
  const { stdout } = await runDrowse(["digest"], folder);
  expect(stdout).toMatch(/^(?!Leave all as it is)/);
  expect(stdout).toContain("Look through the boxes in shed. Look at some cocoons of each box");
  expect(stdout).toContain("Mould dust harms lungs");
  expect(stdout).toContain("What is due\n");
  expect(stdout).toMatch(/Lots\n- hedge: Of its time in the cold 21 days were not seen/);
});

test("a file that can't be written, or a number of days out of range, is wrong use", async () => {
  const folder = await keptFolder();
  const wrong = await runDrowse(["due", "--ics", "no/such/folder.ics"], folder);
  expect(wrong).toMatchObject({ code: 2, stderr: expect.stringMatching(/WRONG_USE: writing no/) });
  const far = await runDrowse(["due", "--within", "999"], folder);
  expect(far).toMatchObject({ code: 2, stderr: expect.stringMatching(/number from 0 to 366/) });
});
