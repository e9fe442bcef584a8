import { expect, test } from "vitest";
import type { CheckMade } from "../../../daemon/checks/record.js";
import { showProbes } from "../../../daemon/cli/now/show-probes.js";
import { doubtSentences } from "../../../daemon/probes/probe-words.js";
import { gatherProbes, lastWeek } from "../../../daemon/probes/standing.js";
import type { Store } from "../../../daemon/store/store.js";
import type { Finding } from "../../../shared/excursion.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { siteOf } from "../../rules/quillmere.js";
import { madeCheck } from "../checks/made-checks.js";
import { doorFinding, NOTHING, openedStore, temporaryFolder } from "../store/temporary-store.js";

const NOW_MS = Date.UTC(2026, 10, 30, 12);
const SITE = siteOf([
  ["shed-air", "air"],
  ["shed-box", "box"],
]);

/** A day of both probes up to a minute ago, of the box only each second minute. */
function keptDay(findings: readonly Finding[] = []): Store {
  const store = openedStore(temporaryFolder());
  const readings = [];
  for (let ms = NOW_MS - DAY_MS; ms < NOW_MS; ms += MINUTE_MS) {
    readings.push({ probeId: "shed-air", takenAtMs: ms, temperatureC: 2.6, humidityPct: 66 });
    if ((ms / MINUTE_MS) % 2 === 0)
      readings.push({ probeId: "shed-box", takenAtMs: ms, temperatureC: 2.1, humidityPct: null });
  }
  store.commit({ ...NOTHING, readings, findings }, []);
  return store;
}

function takeIn(store: Store, ...made: CheckMade[]): void {
  for (const check of made) store.checks.add(check);
  const judge = { state: "{}", atMs: NOW_MS };
  const rest = { shifts: [], series: [], before: [], after: [], letters: [], judge };
  store.revise({ entryNo: store.checks.newestNo(), ...rest }, []);
}

const standings = (store: Store) => gatherProbes(store, SITE, NOW_MS, lastWeek(NOW_MS));
const WORDING = { unit: "C", timezone: "Europe/London", nowMs: NOW_MS } as const;

test("each probe is a line that 80 columns hold: heard, values, share, correction, checks", () => {
  const store = keptDay();
  takeIn(store, madeCheck(0.3, { madeAtMs: NOW_MS - 10 * DAY_MS }));
  const shown = showProbes(standings(store), WORDING);
  const lines = shown.split("\n");
  for (const line of lines.slice(0, 3)) expect([...line].length).toBeLessThanOrEqual(80);
  expect(lines[0]).toMatch(/^probe +heard +says +came +added +checked +due$/);
  // 2.6 °C as sent, and 0.3 °C too high as the check found.
  expect(lines[1]).toMatch(
    /^shed-air +1 min ago +2\.3 °C 66 % +100 % +−0\.30 °C +2026-11-20 +2027-11-20$/,
  );
  expect(lines[2]).toMatch(/^shed-box +2 min ago +2\.1 °C +50 % +nothing +never +now$/);
  expect(shown).toContain("Added by checks: shed-air temperature: shed-air.temperature.");
});

test("80 columns hold a probe of which both quantities are corrected", () => {
  const store = keptDay();
  const madeAtMs = NOW_MS - DAY_MS;
  takeIn(
    store,
    madeCheck(-0.33, { madeAtMs }),
    madeCheck(2.1, { id: "pct", quantity: "humidity", madeAtMs }),
  );
  const [, line] = showProbes(standings(store), WORDING).split("\n");
  expect(line).toMatch(/ 2\.9 °C 64 % +\d+ % +\+0\.33 °C −2\.1 % +2026-11-29 +2027-11-29$/);
  expect([...line!].length).toBeLessThanOrEqual(80);
});

test("what was sent stays beside what is made of it", () => {
  const store = keptDay();
  takeIn(store, madeCheck(0.3, { madeAtMs: NOW_MS - 10 * DAY_MS }));
  const [air] = standings(store);
  expect(air!.raw!.temperatureC).toBe(2.6);
  expect(air!.latest!.temperatureC).toBeCloseTo(2.3, 9);
  expect(air!.corrections.temperature!.added).toBeCloseTo(-0.3, 9);
});

test("a probe whose check is late says so, and that it drifted where two checks show it", () => {
  const store = keptDay();
  const [first, second] = [madeCheck(0.1), madeCheck(0.7)].map(({ result }, i) =>
    madeCheck(i === 0 ? 0.1 : 0.7, {
      madeAtMs: NOW_MS - (i === 0 ? 800 : 400) * DAY_MS,
      result: { ...result, budget: { ...result.budget, expanded: 0.2 } },
    }),
  );
  takeIn(store, first!);
  expect(doubtSentences(standings(store)[0]!, WORDING)).toEqual([
    "Its check is overdue since 21 September 2025.",
  ]);
  takeIn(store, second!);
  expect(doubtSentences(standings(store)[0]!, WORDING)).toEqual([
    // √(0.2² + 0.2²) = 0.28; a year after the second check.
    "Drifted: showed 0.60 °C (± 0.28 °C) more at its last check than 400 days before.",
    "Its check is overdue since 26 October 2026, and it is one that drifts.",
  ]);
});

test("a humidity checked long ago is due though the temperature was checked since", () => {
  const store = keptDay();
  const years = (count: number) => NOW_MS - count * 365 * DAY_MS;
  takeIn(
    store,
    madeCheck(0.1, { id: "pct", quantity: "humidity", madeAtMs: years(2) }),
    madeCheck(0.1, { madeAtMs: NOW_MS - DAY_MS }),
  );
  expect(standings(store)[0]!.check).toEqual({
    lastMs: NOW_MS - DAY_MS,
    dueMs: years(1),
    isOverdue: true,
  });
});

test("an open fault says what the probe said", () => {
  const wild = doorFinding({
    cause: "probe-wild",
    urgency: "note",
    startedAtMs: NOW_MS - HOUR_MS,
    comparedWith: "85.0 °C, which a DS18B20 holds after power-on until it has measured",
  });
  expect(doubtSentences(standings(keptDay([wild]))[0]!, WORDING)).toEqual([
    "Probe wild since 30 November 2026: 85.0 °C, which a DS18B20 holds after power-on until it has measured.",
  ]);
});
