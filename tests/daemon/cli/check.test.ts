import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { describe, expect, test } from "vitest";
import { openStore } from "../../../daemon/store/store.js";
import { type Running, runDrowse, startDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";

const TIMED = PLAIN.replace(
  'payload = "number"',
  'payload = "json"\ntemperature = "/t"\nhumidity = "/h"\ntime = "/at"',
).replace('id = "shed-air"', 'id = "shed-air"\ninterval_s = 60');

/** A folder in which `keep` has run once, so that there is a store. */
async function keptOnce(config = TIMED, more: Readonly<Record<string, string>> = {}) {
  const folder = writeFiles({ "drowse.toml": config, ...more });
  openStore(join(folder, "state"), { timezone: "Europe/London" }).close();
  return folder;
}

async function startKept(folder: string): Promise<{ keep: Running; port: number }> {
  const keep = startDrowse(["keep"], folder);
  const [, port] = await keep.untilPrints(/"port":(\d+),"msg":"listening for sensors"/);
  return { keep, port: Number(port) };
}

/** Publish at QoS 1; resolves once each reading is acknowledged, which is after its commit. */
async function publish(port: number, readings: readonly Readonly<{ at: number; t: number }>[]) {
  const client = await connectAsync(`mqtt://127.0.0.1:${port}`);
  const sent = readings.map((reading) =>
    client.publishAsync("quillmere/shed/air", JSON.stringify(reading), { qos: 1 }),
  );
  await Promise.all(sent);
  await client.endAsync();
}

const ICE_PAIRS =
  "time,probe_c\r\n2026-10-11T15:00:00Z,0.4\r\n2026-10-11T15:01:00Z,0.5\r\n,0.6\r\n";
const TYPED = ["check", "--probe", "shed-air", "--pairs", "pairs.csv"];

describe("a check on typed pairs", () => {
  test("gives offset, scatter, uncertainty, verdict and the day it is due again", async () => {
    const folder = await keptOnce(TIMED, { "pairs.csv": ICE_PAIRS });
    const { code, stdout } = await runDrowse([...TYPED, "--reference", "ice", "--json"], folder);
    expect(code).toBe(0);
    const { check, takenIn } = JSON.parse(stdout);
    expect(takenIn).toBe(false);
    expect(check.result.fit).toBe("offset");
    expect(check.added.low.add).toBeCloseTo(-0.5, 9);
    expect(check.result.residualSd).toBeCloseTo(0.1, 9);
    // By hand: scatter 0.1/√3, ice 0.05, probe's step 0.1/√12, one spot 0.05/√3 for none in ice.
    const u = Math.hypot(0.1 / Math.sqrt(3), 0.05, 0.1 / Math.sqrt(12), 0.05 / Math.sqrt(3));
    expect(check.result.budget.expanded).toBeCloseTo(2 * u, 9);
    expect(check.result.asFound).toMatchObject({ verdict: "undecided" });
    expect(check.pairs.map(({ at }: { at: string }) => at)).toEqual([
      "2026-10-11T15:00:00Z",
      "2026-10-11T15:01:00Z",
      null,
    ]);
    const years = Date.parse(check.due) - Date.parse(check.madeAt);
    expect(Math.abs(years / 86_400_000 - 365)).toBeLessThan(2);
  });

  test("in degrees Fahrenheit against an instrument fits a line over a wide span", async () => {
    const rows = [32, 41, 50, 59, 68].map((f) => `${f + 0.9},${f}`);
    const csv = ["probe_f,reference_f", ...rows].join("\n");
    const folder = await keptOnce(TIMED, { "pairs.csv": csv });
    const against = ["--reference", "instrument", "--reference-uncertainty", "0.1"];
    const { stdout } = await runDrowse([...TYPED, ...against, "--json"], folder);
    const { check } = JSON.parse(stdout);
    expect(check.result.fit).toBe("line");
    // 0.9 °F are 0.5 K (NIST SP 811, appendix B.8).
    expect(check.added.low.add).toBeCloseTo(-0.5, 9);
    expect(check.added.high).toMatchObject({ at: expect.closeTo(20.5, 9) });
  });

  test("over a saturated salt knows the humidity by its temperature", async () => {
    const csv = "probe_pct\n77.6\n77.6\n77.6\n";
    const folder = await keptOnce(TIMED, { "pairs.csv": csv });
    const salt = ["--reference", "nacl", "--salt-temperature", "5"];
    const { check } = JSON.parse((await runDrowse([...TYPED, ...salt, "--json"], folder)).stdout);
    // Greenspan (1977), table 2: 75.65 %RH over NaCl at 5 °C.
    expect(check.added.low.add).toBeCloseTo(75.65 - 77.6, 9);
  });

  test("names every bad line of a file at once and keeps nothing", async () => {
    const csv = "time,probe_c,reference_c\nnoon,1,1\n,x,1\n,1,1\n1,2\n";
    const folder = await keptOnce(TIMED, { "pairs.csv": csv });
    const against = ["--reference", "instrument", "--reference-uncertainty", "0.1"];
    const { code, stderr } = await runDrowse([...TYPED, ...against], folder);
    expect(code).toBe(1);
    expect(stderr).toMatch(/^drowse: PAIRS_FAULTY: pairs.csv has bad lines, nothing was kept\n/);
    expect(stderr).toMatch(/line 2: time "noon"[\s\S]*line 3: probe "x"[\s\S]*line 5: 2 cells/);
    expect((await runDrowse(["check", "--history"], folder)).stdout).toMatch(/^No check/);
  });

  test.each([
    ["probe_c\n1\n1\n", ["--reference", "ice"], /2 pairs, expected 3 or more/],
    ["probe_c\n32\n32\n32\n", ["--reference", "ice"], /32\.0 K apart, expected 5 at most/],
    // A probe that lay in a cellar and not in the ice.
    ["probe_c\n9.9\n10\n9.9\n", ["--reference", "ice"], /10\.0 K apart, expected 5 at most/],
    [
      "probe_c\n1\n1\n1\n1\n",
      ["--reference", "ice", "--fit", "line"],
      /all pairs are at one value/,
    ],
  ])("is refused where nobody would believe it: %j", async (csv, options, why) => {
    const folder = await keptOnce(TIMED, { "pairs.csv": csv });
    const { code, stderr } = await runDrowse([...TYPED, ...options], folder);
    expect(code).toBe(1);
    expect(stderr).toMatch(/^drowse: CHECK_REFUSED: /);
    expect(stderr).toMatch(why);
  });

  test.each([
    [["--probe", "shed-aire", "--reference", "ice"], "nearest is shed-air"],
    [[], "--reference is missing"],
    [["--reference", "NaCI"], "nearest is NaCl"],
    [["--reference", "KCl"], "but the pairs are of temperature|is not for temperature"],
    [["--reference", "instrument"], "--reference-uncertainty is missing"],
    [["--reference", "ice", "--tolerance", "half"], '--tolerance "half", expected a number'],
    [["--reference", "ice", "--from", "2999-01-01"], "is ahead"],
    [["--reference", "ice", "--from", "2026-01-01", "--record-only"], "exclude each other"],
  ])("asked wrongly with %j says what was expected", async (options, expected) => {
    const folder = await keptOnce(TIMED, { "pairs.csv": ICE_PAIRS });
    const { code, stderr } = await runDrowse([...TYPED, ...options], folder);
    expect(stderr).toMatch(new RegExp(expected));
    expect(code).toBe(2);
  });
});

describe("what was kept", () => {
  test("is listed with the drift between two checks and its uncertainty", async () => {
    const folder = await keptOnce(TIMED, { "pairs.csv": ICE_PAIRS });
    await runDrowse([...TYPED, "--reference", "ice", "--note", "autumn"], folder);
    writeFileSync(join(folder, "pairs.csv"), "probe_c\n1.4\n1.4\n1.4\n");
    await runDrowse([...TYPED, "--reference", "ice", "--record-only"], folder);
    const { stdout } = await runDrowse(["check", "--history", "--json"], folder);
    const [first, second] = stdout
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line));
    expect(first).toMatchObject({ drift: null, note: "autumn", withdrawnAt: null });
    expect(second).toMatchObject({ holdsFrom: null, drift: { isSeen: true } });
    expect(second.drift.moved).toBeCloseTo(0.9, 9);
    const text = (await runDrowse(["check", "--history"], folder)).stdout;
    expect(text).toMatch(/since the last +shows 0\.90 °C, ± 0\.\d\d °C more at 1\.00 °C in 0 days/);
  });

  test("is a one-page certificate, which says what it is not", async () => {
    const folder = await keptOnce(TIMED, { "pairs.csv": ICE_PAIRS });
    const by = ["--by", "A. <Keeper>"];
    await runDrowse([...TYPED, "--reference", "ice", ...by], folder);
    const text = (await runDrowse(["check", "--certificate"], folder)).stdout;
    expect(text).toContain("0.50 °C taken off (the mean of 3 pairs)");
    expect(text).toMatch(/no calibration by an accredited laboratory/);
    const html = (await runDrowse(["check", "--certificate", "--html"], folder)).stdout;
    expect(html).toContain("A. &lt;Keeper&gt;");
    expect(html).toMatch(/no calibration by an accredited laboratory/);
    expect(html).not.toMatch(/https?:|src=|<script/);
  });

  test("can be withdrawn, once, and stays in the history", async () => {
    const folder = await keptOnce(TIMED, { "pairs.csv": ICE_PAIRS });
    const made = await runDrowse([...TYPED, "--reference", "ice", "--json"], folder);
    const { id } = JSON.parse(made.stdout).check;
    expect((await runDrowse(["check", "--withdraw", id], folder)).code).toBe(0);
    const again = await runDrowse(["check", "--withdraw", id], folder);
    expect(again.stderr).toMatch(/CHECK_REFUSED: .* withdrawn already/);
    const unknown = await runDrowse(["check", "--withdraw", `${id}x`], folder);
    expect(unknown.stderr).toContain(`CHECK_UNKNOWN: no check ${id}x; nearest is ${id}`);
    const history = JSON.parse((await runDrowse(["check", "--history", "--json"], folder)).stdout);
    expect(history.withdrawnAt).not.toBeNull();
  });
});

describe("a check on live readings from MQTT", () => {
  test("waits until they are steady, says why not yet, and pairs them with a scripted reference", async () => {
    const folder = await keptOnce();
    const { port } = await startKept(folder);
    const reference = ["--reference", "instrument", "--reference-uncertainty", "0.1"];
    const scripted = [...reference, "--reference-correction", "0.1", "--reads", "2.0"];
    const check = startDrowse(["check", "--probe", "shed-air", ...scripted, "--json"], folder);
    await check.untilPrints(/shed-air is not judged while it is being checked/);
    await check.untilPrints(/0 readings over less than a minute so far/);
    const fromMs = Date.now();
    const at = (minute: number) => fromMs + minute * 60_000;
    // A sensor's own clock may be ahead of ours by up to ten minutes.
    await publish(
      port,
      [0, 1, 2, 3, 4].map((i) => ({ at: at(i / 2), t: 20 - 4 * i })),
    );
    await check.untilPrints(/5 readings over 2 minutes so far/);
    await publish(
      port,
      [5, 6, 7, 8].map((i) => ({ at: at(i / 2), t: 4.4 - i / 5 })),
    );
    await check.untilPrints(/still falling, by \d+\.\d\d °C in 5 minutes/);
    await publish(
      port,
      [45, 55, 65, 75, 85, 95].map((i) => ({ at: at(i / 10), t: i % 20 > 10 ? 2.5 : 2.6 })),
    );
    const { code, stdout } = await check.ended;
    expect(code).toBe(0);
    const { check: made, takenIn } = JSON.parse(stdout);
    expect(takenIn).toBe(true);
    expect(made.pairs).toHaveLength(6);
    // The reference showed 2.0, to which its certificate adds 0.1.
    expect(made.pairs.map((p: { reference: number }) => p.reference)).toEqual(Array(6).fill(2.1));
    expect(made.added.low.add).toBeCloseTo(2.1 - 2.55, 9);
    const store = openStore(join(folder, "state"), { timezone: "Europe/London" }, { mode: "look" });
    const absences = store.checks.absences();
    store.close();
    expect(absences).toHaveLength(1);
    expect(absences[0]!.untilMs - Date.now()).toBeGreaterThan(25 * 60_000);
  });

  test("without anything that takes readings in says so", async () => {
    const folder = await keptOnce();
    const { code, stderr } = await runDrowse(["check", "--reference", "ice"], folder);
    expect(code).toBe(1);
    expect(stderr).toMatch(/CHECK_REFUSED: nothing takes readings in: start drowse keep/);
  });
});

describe("a correction in force", { timeout: 120_000 }, () => {
  /** A reading each minute over hours that end so long ago, all of one warmth. */
  const hours = (count: number, agoH: number, t: number) =>
    Array.from({ length: count * 60 }, (_, i) => ({
      at: Math.floor(Date.now() / 60_000) * 60_000 - agoH * 3_600_000 - (count * 60 - i) * 60_000,
      t: t + ((i % 20) - 10) / 50,
    }));
  const twoDaysAgo = () => new Date(Date.now() - 2 * 86_400_000).toISOString();
  const openCauses = async (folder: string): Promise<string[]> => {
    const now = JSON.parse((await runDrowse(["now", "--json"], folder)).stdout);
    return now.open.map(({ cause }: { cause: string }) => cause);
  };

  /** When the first excursion of warmth began and how warm it got, with or without a check. */
  async function firstWarmth(isChecked: boolean) {
    const folder = await keptOnce(TIMED, { "pairs.csv": "probe_c\n2.0\n2.0\n2.0\n" });
    const options = ["--reference", "ice", "--from", twoDaysAgo(), "--json"];
    if (isChecked) expect((await runDrowse([...TYPED, ...options], folder)).code).toBe(0);
    const { keep, port } = await startKept(folder);
    await publish(port, [...hours(8, 5, 5), ...hours(5, 0, 10)]);
    if (isChecked) await keep.untilPrints(/took a check in/);
    await until(async () => (await openCauses(folder)).length > 0);
    const now = JSON.parse((await runDrowse(["now", "--json"], folder)).stdout);
    return { startedMs: Date.parse(now.open[0].startedAt), cocoonC: now.chambers[0].cocoonC };
  }

  test("shifts an excursion by what it takes off", async () => {
    const riseMs = Date.now() - 5 * 3_600_000;
    const [raw, corrected] = [await firstWarmth(false), await firstWarmth(true)];
    // Read raw, the cocoons were above 3.3 °C all the time; corrected, only since it grew warm.
    expect(raw.startedMs).toBeLessThan(riseMs - 3_600_000);
    expect(corrected.startedMs).toBeGreaterThan(riseMs - 10 * 60_000);
    expect(raw.cocoonC - corrected.cocoonC).toBeCloseTo(2, 1);
  });

  test("dated back judges anew what was told, says so, and leaves raw readings alone", async () => {
    const folder = await keptOnce(TIMED, { "pairs.csv": "probe_c\n2.0\n2.0\n2.0\n" });
    const { keep, port } = await startKept(folder);
    await publish(port, hours(12, 0, 5.2));
    await until(async () => (await openCauses(folder)).includes("warm"));
    const raw = (await runDrowse(["readings"], folder)).stdout;
    const options = ["--reference", "ice", "--from", twoDaysAgo(), "--json"];
    const { check, changes, takenIn } = JSON.parse(
      (await runDrowse([...TYPED, ...options], folder)).stdout,
    );
    expect(takenIn).toBe(true);
    expect(changes).toHaveLength(1);
    expect(changes[0]).toContain("Events that were told and were none");
    expect(await openCauses(folder)).not.toContain("warm");
    expect((await runDrowse(["readings"], folder)).stdout).toBe(raw);
    const corrected = (await runDrowse(["readings", "--corrected"], folder)).stdout.split("\r\n");
    expect(corrected[0]).toBe(
      "time,probe,temperature_c,humidity_pct,temperature_check,humidity_check",
    );
    expect(corrected[1]!.split(",").slice(2)).toEqual(["3", "", check.id, ""]);
    const letters = readdirSync(join(folder, "state", "letters"));
    expect(letters.filter((name) => name.includes("read-what-a-check"))).toHaveLength(1);
    // What was judged anew is what a later start goes on from.
    keep.child.kill("SIGTERM");
    await keep.ended;
    expect(await openCauses(folder)).not.toContain("warm");
    const again = await startKept(folder);
    expect(await openCauses(folder)).not.toContain("warm");
    again.keep.child.kill("SIGTERM");
    expect(readFileSync(join(folder, "drowse.toml"), "utf8")).toBe(TIMED);
  });
});

/** Look again until it is so; the test's own deadline bounds it. */
async function until(isSo: () => Promise<boolean>): Promise<void> {
  while (!(await isSo()));
}
