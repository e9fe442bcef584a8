import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { loadConfig } from "../../../daemon/config.js";
import { openStore } from "../../../daemon/store/store.js";
import { beginJudge, stepJudge } from "../../../rules/judge.js";
import type { Finding } from "../../../shared/excursion.js";
import { runDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";

const START_MS = Date.UTC(2026, 0, 11, 3);

function finding(excursionId: string, urgency: Finding["urgency"]): Finding {
  const cost = {
    degreeHoursAbove: 0,
    degreeHoursBelow: 0,
    reserveDays: 0,
    wetHours: null,
    mouldIndex: null,
  };
  return {
    atMs: START_MS,
    chamberId: "shed",
    probeId: "shed-air",
    excursionId,
    change: "opened",
    cause: urgency === "rush" ? "cooling-lost" : "door-ajar",
    urgency,
    startedAtMs: START_MS,
    cocoonC: 4,
    airC: 9,
    humidityPct: null,
    cocoonSpanC: null,
    comparedWith: "the fridge's habit",
    cost,
    forecast: null,
  };
}

/** A store with two urgent excursions and one that is not. */
function keptFolder(): string {
  const folder = writeFiles({ "drowse.toml": PLAIN });
  const store = openStore(join(folder, "state"), { timezone: "Europe/London" });
  const findings = [finding("a", "rush"), finding("b", "rush"), finding("c", "visit")];
  store.commit({ readings: [], findings, letters: [], judge: null, heard: [] }, []);
  store.close();
  return folder;
}

const acknowledgedIn = (stdout: string) =>
  JSON.parse(stdout)
    .open.filter((open: { acknowledgedAt: string | null }) => open.acknowledgedAt !== null)
    .map((open: { id: string }) => open.id);

test("--acknowledge alone acknowledges all that is urgent and nothing else", async () => {
  const folder = keptFolder();
  const before = await runDrowse(["now", "--json"], folder);
  expect(acknowledgedIn(before.stdout)).toEqual([]);
  const after = await runDrowse(["now", "--acknowledge", "--json"], folder);
  expect(JSON.parse(after.stdout).acknowledged).toEqual(["a", "b"]);
  expect(acknowledgedIn(after.stdout)).toEqual(["a", "b"]);
  const again = await runDrowse(["now", "--acknowledge"], folder);
  expect(again.stdout).toContain("Acknowledged: nothing was to be");
});

test("--acknowledge ID acknowledges that one; an unknown id names the nearest", async () => {
  const folder = keptFolder();
  const { stdout } = await runDrowse(["now", "--json", "--acknowledge", "c"], folder);
  expect(acknowledgedIn(stdout)).toEqual(["c"]);
  const wrong = await runDrowse(["now", "--acknowledge", "cc"], folder);
  expect(wrong.code).toBe(1);
  expect(wrong.stderr).toBe("drowse: EXCURSION_UNKNOWN: no excursion cc; nearest is c\n");
});

test("the page says where, why and how urgent, with times of the site", async () => {
  const { stdout } = await runDrowse(["now"], keptFolder());
  expect(stdout).toMatch(/^Quillmere shed, /);
  expect(stdout).toMatch(/cooling-lost +shed +rush +for .* +not acknowledged +a/);
  expect(stdout).toContain("Letters: all delivered.");
});

describe("with a judge's memory", () => {
  /** A store whose judge has seen a day and a half of Quillmere, up to now. */
  function judgedFolder(agoHours: number): string {
    const folder = writeFiles({ "drowse.toml": PLAIN });
    const config = loadConfig(join(folder, "drowse.toml"));
    const untilMs = Date.now() - agoHours * 3_600_000;
    let state = beginJudge(config.site);
    for (let min = 36 * 60; min >= 0; min--) {
      const takenAtMs = untilMs - min * 60_000;
      const reading = { probeId: "shed-air", takenAtMs, temperatureC: 2.4, humidityPct: 66 };
      state = stepJudge(state, { kind: "reading", reading }, config.site).state;
    }
    const store = openStore(join(folder, "state"), { timezone: "Europe/London" });
    const judge = { state: JSON.stringify(state), atMs: untilMs };
    store.commit({ readings: [], findings: [], letters: [], judge, heard: [] }, []);
    store.close();
    return folder;
  }

  test("it tells the season, and the constants with their spans, as text and as JSON", async () => {
    const folder = judgedFolder(0);
    const { stdout } = await runDrowse(["now"], folder);
    expect(stdout).toMatch(/The winter so far: shed/);
    expect(stdout).toMatch(/Reserve used +about 1\.3 days/);
    expect(stdout).toMatch(
      /Humidity at the cocoons +66 % +reckoned from the air; 6\d to 6\d % so far/,
    );
    expect(stdout).toMatch(/Mould index +0\.0 of 6 +by a model made for pine wood/);
    expect(stdout).toMatch(/Lag of the cocoons +1 hour +assumed, 30 minutes to 2 hours/);
    expect(stdout).toMatch(/Warming of the fridge .*assumed, 3 hours to 16 hours/);
    const json = JSON.parse((await runDrowse(["now", "--json"], folder)).stdout);
    expect(json.chambers[0].season).toMatchObject({
      humidityFrom: "air",
      mouldIndex: 0,
      cocoonLagMin: 60,
      cocoonLagFrom: "assumed",
      warmingFrom: "assumed",
    });
    expect(json.chambers[0].dark).toBeNull();
    expect(json.carry).toBeUndefined();
  });

  test("in the dark it bounds what the cocoons can be by now", async () => {
    const { stdout } = await runDrowse(["now"], judgedFolder(5));
    expect(stdout).toMatch(
      /Nobody has seen the cocoons in shed for 5 hours.*\. With the door shut they can be [\d.]+ °C/,
    );
  });

  test("--carry says how long a cold box must stay shut; a bad room is wrong use", async () => {
    const folder = judgedFolder(0);
    const { stdout } = await runDrowse(["now", "--carry", "20,50"], folder);
    expect(stdout).toMatch(
      /^A box from shed in a room of 20\.0 °C and 50 %RH: keep it shut for about/,
    );
    const json = JSON.parse(
      (await runDrowse(["now", "--carry", "20,50", "--json"], folder)).stdout,
    );
    expect(json.carry[0]).toMatchObject({ chamber: "shed", roomC: 20, humidityPct: 50 });
    expect(json.carry[0].aboutMin).toBeGreaterThan(5);
    const wrong = await runDrowse(["now", "--carry", "warm"], folder);
    expect(wrong.code).toBe(2);
    expect(wrong.stderr).toContain("WRONG_USE: carry");
  });
});
