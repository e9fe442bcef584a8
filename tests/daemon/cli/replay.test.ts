import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { loadConfig } from "../../../daemon/config.js";
import { beginJudge, stepJudge } from "../../../rules/judge.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";
import { runDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";

const HEAD = "time,probe,temperature_c,humidity_pct";
const START_MS = Date.UTC(2026, 0, 11);
const at = (minute: number) => new Date(START_MS + minute * 60_000).toISOString();

/** Three sound hours, then a silence of an hour, then sound again. */
function silentHour(): Reading[] {
  const minutes = Array.from({ length: 300 }, (_, minute) => minute);
  return minutes
    .filter((minute) => minute < 180 || minute >= 240)
    .map((minute) => ({
      probeId: "shed-air",
      takenAtMs: START_MS + minute * 60_000,
      temperatureC: 2.2 + Math.sin(minute / 5) / 2,
      humidityPct: 65,
    }));
}

function csv(readings: readonly Reading[], eol = "\n"): string {
  const rows = readings.map(
    (r) => `${new Date(r.takenAtMs).toISOString()},${r.probeId},${r.temperatureC},${r.humidityPct}`,
  );
  return `${[HEAD, ...rows].join(eol)}${eol}`;
}

async function replayText(text: string, ...options: string[]) {
  const folder = writeFiles({ "drowse.toml": PLAIN, "winter.csv": text });
  return runDrowse(["replay", "winter.csv", ...options], folder);
}

const parse = (stdout: string) =>
  stdout
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line));

/** The same readings judged here, told each instant as it comes. */
function judged(readings: readonly Reading[], folder: string): Finding[] {
  const { site } = loadConfig(join(folder, "drowse.toml"));
  let state = beginJudge(site);
  const findings: Finding[] = [];
  for (const reading of readings)
    for (const event of [
      { kind: "tick", atMs: reading.takenAtMs },
      { kind: "reading", reading },
    ] as const) {
      const step = stepJudge(state, event, site);
      state = step.state;
      findings.push(...step.findings);
    }
  return findings;
}

test("--json prints a line for each change, as the judge found it, and the summary last", async () => {
  const readings = silentHour();
  const folder = writeFiles({ "drowse.toml": PLAIN, "winter.csv": csv(readings) });
  const { code, stdout, stderr } = await runDrowse(["replay", "winter.csv", "--json"], folder);
  expect([code, stderr]).toEqual([0, ""]);
  const lines = parse(stdout);
  const expected = judged(readings, folder);
  expect(expected.map(({ cause, change }) => `${cause} ${change}`)).toEqual([
    "probe-mute opened",
    "probe-mute ended",
  ]);
  expect(
    lines.slice(0, -1).map((line) => [line.excursion, line.change, Date.parse(line.at)]),
  ).toEqual(expected.map((finding) => [finding.excursionId, finding.change, finding.atMs]));
  expect(Object.keys(lines[0])).toEqual([
    "at",
    "chamber",
    "probe",
    "excursion",
    "change",
    "cause",
    "urgency",
    "cocoonC",
    "airC",
    "cost",
  ]);
  expect(Object.keys(lines.at(-1))).toEqual(["summary"]);
});

test("the order of rows, CRLF, quotes and other columns change nothing", async () => {
  const readings = silentHour();
  const plain = await replayText(csv(readings), "--json");
  const shuffled = await replayText(csv([...readings].reverse(), "\r\n"), "--json");
  expect(shuffled.stdout).toBe(plain.stdout);
  const quoted = csv(readings)
    .split("\n")
    .map((row, i) => (i === 0 ? `\ufeff${row},note` : row === "" ? "" : `${row},"a ""b"", c"`));
  const others = await replayText(quoted.join("\n"), "--json");
  expect(others.stdout).toBe(plain.stdout);
  expect(plain.stdout.split("\n").length).toBeGreaterThan(2);
});

test("every bad line is named by its number, and nothing is judged", async () => {
  const text = `${HEAD}
${at(0)},shed-air,2.1,65
2026-02-30T00:00:00Z,shed-air,2.1,65
${at(2)},shed-air,cold,65
${at(3)},shed-air,2.1
${at(4)},,2.1,65
${at(5)},shed-air,,
2026-01-11 03:15,shed-air,2.1,65
`;
  const { code, stdout, stderr } = await replayText(text, "--json");
  expect(code).toBe(1);
  expect(stdout).toBe("");
  expect(stderr).toContain("REPLAY_FAULTY: winter.csv has 5 bad lines, nothing was judged");
  expect(stderr).toMatch(/line 3: time "2026-02-30T00:00:00Z", expected RFC 3339/);
  expect(stderr).toMatch(/line 4: temperature_c "cold", expected a number or nothing/);
  expect(stderr).toMatch(/line 5: 3 cells, expected 4/);
  expect(stderr).toMatch(/line 6: no probe/);
  expect(stderr).toMatch(/line 8: time/);
  expect(stderr).not.toContain("line 7");
});

test("lines after a quote keep their numbers", async () => {
  const text = `${HEAD}\n${at(0)},"shed-air",2.1,65\n"${at(1)}",shed-air,warm,65\n`;
  expect((await replayText(text)).stderr).toContain('line 3: temperature_c "warm"');
});

test("rows of a probe that the config does not know are named once and left out", async () => {
  const known = csv(silentHour());
  const text = `${known}${at(1)},shed-ari,40,65\n${at(2)},shed-ari,41,65\n`;
  const { code, stdout, stderr } = await replayText(text, "--json");
  expect(code).toBe(0);
  expect(stderr).toContain("2 rows of shed-ari, no probe of the config, nearest is shed-air");
  expect(stdout).toBe((await replayText(known, "--json")).stdout);
});

test("a file that is none, is empty or has other columns fails with its name", async () => {
  expect(await replayText("")).toMatchObject({
    code: 1,
    stderr: expect.stringContaining(`winter.csv is empty, expected the line ${HEAD}`),
  });
  expect(await replayText("when,what\n1,2\n")).toMatchObject({
    code: 1,
    stderr: expect.stringContaining('begins with "when,what"'),
  });
  const folder = writeFiles({ "drowse.toml": PLAIN });
  expect(await runDrowse(["replay", "absent.csv"], folder)).toMatchObject({
    code: 1,
    stderr: expect.stringContaining("REPLAY_FAULTY: reading absent.csv"),
  });
});

test("it stores nothing, and needs no mail password", async () => {
  const mail =
    '[mail]\nhost = "m.example"\nuser = "d"\npassword_file = "absent"\nfrom = "d@m.example"\n';
  const folder = writeFiles({ "drowse.toml": PLAIN + mail, "winter.csv": csv(silentHour()) });
  const { code } = await runDrowse(["replay", "winter.csv"], folder);
  expect(code).toBe(0);
  writeFileSync(join(folder, "probe"), "");
  const { readdirSync } = await import("node:fs");
  expect(readdirSync(folder).sort()).toEqual(["drowse.toml", "probe", "winter.csv"]);
});
