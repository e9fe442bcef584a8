import { describe, expect, test } from "vitest";
import { adoptJudge } from "../../../rules/judge.js";
import { makeFridge } from "../../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../../sensors/simulated/named-fridges.js";
import { draw, seeded } from "../../../sensors/simulated/seeded.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import {
  asReading,
  type Course,
  dayMs,
  judge,
  lettersOf,
  liveCourse,
  siteOf,
} from "../quillmere.js";

/** A course in which a probe says the same from one instant until before another. */
function freeze(
  course: Course,
  probeId: string,
  fromMs: number,
  untilMs = Number.POSITIVE_INFINITY,
) {
  const stuck = course.readings.findLast((r) => r.probeId === probeId && r.takenAtMs < fromMs)!;
  const { temperatureC, humidityPct } = stuck;
  return course.readings.map(
    (r): Reading =>
      r.probeId === probeId && r.takenAtMs >= fromMs && r.takenAtMs < untilMs
        ? { ...r, temperatureC, humidityPct }
        : r,
  );
}

/** The same readings without humidity, in coarser steps. */
function coarsen(readings: readonly Reading[], stepC: number): Reading[] {
  return readings.map((r) => ({
    ...r,
    temperatureC: Math.round(r.temperatureC! / stepC) * stepC,
    humidityPct: null,
  }));
}

const stuckIn = (findings: readonly Finding[]) =>
  findings.filter(({ cause }) => cause === "probe-stuck");

describe("a probe that stands still while its fridge breathes", () => {
  const course = liveCourse({ days: 4, seed: 5 });
  const fromMs = dayMs(2.5);

  test("is told after three hours where it hangs in the air, once, and until it moves", () => {
    const untilMs = fromMs + 10 * HOUR_MS;
    const { findings } = judge(
      freeze(course, "shed-air", fromMs, untilMs).map(asReading),
      course.site,
    );
    const told = stuckIn(findings);
    expect(told.map(({ change, urgency }) => `${change} ${urgency}`)).toEqual([
      "opened visit",
      "ended visit",
    ]);
    expect((told[0]!.atMs - fromMs) / HOUR_MS).toBeGreaterThan(2.9);
    expect((told[0]!.atMs - fromMs) / HOUR_MS).toBeLessThan(3.1);
    expect(told[0]!.comparedWith).toMatch(
      /^\d\.\d °C and \d+\.\d % humidity all the time; until then it rested for \d+ min at the most$/,
    );
    expect(told[0]).toMatchObject({ probeId: "shed-air", chamberId: "shed" });
    expect((told[1]!.atMs - untilMs) / HOUR_MS).toBeLessThan(0.1);
  });

  test("is told within seven hours where it lies in a box", () => {
    const { findings } = judge(freeze(course, "shed-box", fromMs).map(asReading), course.site);
    expect((stuckIn(findings)[0]!.atMs - fromMs) / HOUR_MS).toBeLessThan(7);
  });

  test("is told after fifteen days where it never spoke otherwise", () => {
    const silent = Array.from({ length: 16 * 24 * 12 }, (_, i) => ({
      probeId: "shed-air",
      takenAtMs: dayMs(i / (24 * 12)),
      temperatureC: 2.3,
      humidityPct: null,
    }));
    const { findings } = judge(silent.map(asReading), siteOf([["shed-air", "air"]], 300_000));
    expect((stuckIn(findings)[0]!.atMs - dayMs(0)) / DAY_MS).toBeCloseTo(15, 1);
    expect(stuckIn(findings)[0]!.comparedWith).toBe(
      "2.3 °C and nothing else since it was first heard",
    );
  });

  test("is told by a probe of tenths that speaks each five minutes too", () => {
    const slow = liveCourse({ days: 4, seed: 5, intervalMs: 300_000, humidity: false });
    const { findings } = judge(freeze(slow, "shed-air", fromMs).map(asReading), slow.site);
    expect((stuckIn(findings)[0]!.atMs - fromMs) / HOUR_MS).toBeLessThan(4);
  });

  test("is not believed any more once it was told", () => {
    const readings = freeze(course, "shed-box", fromMs);
    const { findings, state } = judge(readings.map(asReading), course.site);
    const toldMs = stuckIn(findings)[0]!.atMs;
    const box = state.chambers[0]!.cocoon.boxes.find(({ probeId }) => probeId === "shed-box")!;
    expect(box.atMs).toBeLessThanOrEqual(toldMs);
  });

  test.each([1, 2])("is told alike however often the judge starts anew (seed %s)", (seed) => {
    const random = seeded(seed, "restart");
    const readings = freeze(course, "shed-air", fromMs, fromMs + 10 * HOUR_MS);
    const once = judge(readings.map(asReading), course.site).findings;
    const restarted = judge(readings.map(asReading), course.site, (state) =>
      draw(random) < 0.02 ? adoptJudge(JSON.parse(JSON.stringify(state)), course.site) : state,
    ).findings;
    expect(restarted).toEqual(once);
  });
});

describe("a sound probe that stands still for days is not told", () => {
  /** What a compressor that runs at the speed it needs leaves of a room's day, and no hand. */
  const steady = (midC: number, swingK: number, stepC: number) => {
    const at = (i: number) => {
      const day = i / (24 * 12);
      // Three days on the edge between two steps, then a little off it.
      const offK = day < 3 ? 0 : 0.45 * stepC;
      const noiseK = i % 2 === 0 ? 0.02 : -0.02;
      const c = midC + offK + swingK * Math.sin(2 * Math.PI * day) + noiseK;
      return Math.round(c / stepC) * stepC;
    };
    return Array.from({ length: 14 * 24 * 12 }, (_, i) => ({
      probeId: "shed-air",
      takenAtMs: dayMs(i / (24 * 12)),
      temperatureC: at(i),
      humidityPct: null,
    }));
  };
  const flips = (readings: readonly Reading[], fromDay: number) =>
    readings.filter((r, i) => i > fromDay * 288 && r.temperatureC !== readings[i - 1]!.temperatureC)
      .length;

  test.each([
    ["air in tenths, through nights", "air", 2.2, 0.12, 0.1],
    ["air in half degrees", "air", 2.25, 0.01, 0.5],
    ["a well insulated box in tenths", "box", 2.25, 0.01, 0.1],
    ["a well insulated box in half degrees", "box", 2.25, 0.01, 0.5],
  ] as const)("%s", (_what, place, midC, swingK, stepC) => {
    const readings = steady(midC, swingK, stepC);
    const { findings } = judge(readings.map(asReading), siteOf([["shed-air", place]], 300_000));
    expect(stuckIn(findings)).toEqual([]);
    if (swingK < stepC / 5) {
      expect(flips(readings, 0)).toBeGreaterThan(500);
      expect(flips(readings, 4)).toBe(0);
    }
  });
});

describe("nothing is told of sound probes", () => {
  // 1/16 and 1/2 K are the finest and the coarsest step of a DS18B20 (datasheet, table of
  // resolutions); whole degrees are the coarsest display there is.
  const STEPS = [0.0625, 0.1, 0.5, 1];
  test.each(NAMED_SKETCHES.map((sketch) => [sketch.name, sketch] as const))(
    "%s, in whatever steps they speak",
    (_name, sketch) => {
      const course = liveCourse({ days: 8, seed: 7, fridge: makeFridge(sketch) });
      for (const stepC of STEPS) {
        const { findings } = judge(coarsen(course.readings, stepC).map(asReading), course.site);
        const faults = findings.filter(({ cause }) => /^probe-(stuck|wild|drift)$/.test(cause));
        expect(faults, `steps of ${stepC} K`).toEqual([]);
      }
      const asTheyAre = lettersOf(judge(course.readings.map(asReading), course.site).findings);
      expect(asTheyAre.filter(({ cause }) => cause.startsWith("probe-"))).toEqual([]);
    },
  );
});
