import { standardDeviation } from "simple-statistics";
import { describe, expect, test } from "vitest";
import { followLinear } from "../../rules/lag.js";
import {
  beginLagLearning,
  type LagLearning,
  learnedLag,
  stepLagLearning,
} from "../../rules/learned-lag.js";
import { openDaily } from "../../sensors/simulated/habits.js";
import { outfitChamber } from "../../sensors/simulated/outfit.js";
import { drawFridge } from "../../sensors/simulated/random-fridge.js";
import { draw, seeded } from "../../sensors/simulated/seeded.js";
import { simulate } from "../../sensors/simulated/simulation.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2026, 0, 5);

type Box = Readonly<{
  lagMin: number;
  everyMin: number;
  offC?: number;
  noiseC?: number;
  swingC?: number;
}>;

/** Days of a fridge whose air swings each 40 minutes and is opened twice a day, or of still air. */
function watch(days: number, box: Box, seed = 1, from = beginLagLearning()): LagLearning {
  const { lagMin, everyMin, offC = 0, noiseC = 0.1, swingC = 1.5 } = box;
  const random = seeded(seed, "box");
  let state = from;
  let boxC = 3;
  let lastC = 3;
  for (let minute = 0; minute < days * 24 * 60; minute++) {
    const isOpen = swingC > 0 && minute % 720 < 6;
    const airC = 3 + swingC * Math.sin((2 * Math.PI * minute) / 40) + (isOpen ? 6 : 0);
    boxC = followLinear(boxC, lastC, airC, MINUTE_MS, lagMin * MINUTE_MS);
    lastC = airC;
    if (minute % everyMin !== 0) continue;
    const noise = () => (draw(random) - 0.5) * 2 * noiseC;
    const shown = Math.round((boxC + offC + noise()) * 10) / 10;
    state = stepLagLearning(state, START_MS + minute * MINUTE_MS, airC + noise(), shown);
  }
  return state;
}

describe("the lag of a box behind its air", () => {
  test.each([
    [15, 1],
    [30, 1],
    [60, 1],
    [120, 1],
    [240, 1],
  ])("of %s min is found with a reading each %s min, within its span", (lagMin, everyMin) => {
    const { lagMs, spanMs } = learnedLag(watch(4, { lagMin, everyMin }))!;
    expect(Math.abs(Math.log(lagMs / MINUTE_MS / lagMin))).toBeLessThan(Math.log(1.3));
    expect(spanMs.low / MINUTE_MS).toBeLessThan(lagMin);
    expect(spanMs.high / MINUTE_MS).toBeGreaterThan(lagMin);
  });

  test("is found less well by readings each five minutes, which miss most of an opening", () => {
    const { lagMs } = learnedLag(watch(4, { lagMin: 60, everyMin: 5 }))!;
    expect(Math.abs(Math.log(lagMs / HOUR_MS))).toBeLessThan(Math.log(1.5));
  });

  test("is known well enough after some days of swings", () => {
    expect(learnedLag(watch(4, { lagMin: 60, everyMin: 1 }))!.isGoodEnough).toBe(true);
  });

  test("is found although the box's probe reads half a kelvin high", () => {
    const { lagMs } = learnedLag(watch(4, { lagMin: 60, everyMin: 1, offC: 0.5 }))!;
    expect(Math.abs(Math.log(lagMs / HOUR_MS))).toBeLessThan(Math.log(1.3));
  });

  test("lies between those that are tried, too", () => {
    const { lagMs } = learnedLag(watch(4, { lagMin: 52, everyMin: 1, noiseC: 0.02 }))!;
    expect(Math.abs(Math.log(lagMs / MINUTE_MS / 52))).toBeLessThan(Math.log(1.06));
  });

  test("is found within a day by a box whose probe reads two kelvin high", () => {
    const { lagMs } = learnedLag(watch(1, { lagMin: 60, everyMin: 1, offC: 2, noiseC: 0.02 }))!;
    expect(Math.abs(Math.log(lagMs / HOUR_MS))).toBeLessThan(Math.log(1.1));
  });

  test.each([3, 2_000])(
    "of %s min is beyond what is tried, and so never known well enough",
    (m) => {
      expect(learnedLag(watch(4, { lagMin: m, everyMin: 1 }))!.isGoodEnough).toBe(false);
    },
  );

  test("is not known well enough where the air hardly moves", () => {
    const calm = watch(4, { lagMin: 60, everyMin: 1, swingC: 0 });
    expect(learnedLag(calm)!.isGoodEnough).toBe(false);
  });

  test("is not told before half a day was followed", () => {
    expect(learnedLag(beginLagLearning())).toBeNull();
    expect(learnedLag(watch(0.5, { lagMin: 60, everyMin: 1 }))).toBeNull();
    expect(learnedLag(watch(0.7, { lagMin: 60, everyMin: 1 }))).not.toBeNull();
  });
});

test("a box whose physics knows nothing of lags is followed nearly as well as can be", () => {
  // The simulated box has two lags in a row, and its probe touches both. No one lag is true of it:
  // the one that is learned must do as well as the best, and better than the hour that is assumed.
  const fridge = drawFridge(2);
  const probes = outfitChamber(fridge, 2, "shed", {
    intervalMs: MINUTE_MS,
    humidity: true,
    box: true,
  });
  const endMs = START_MS + 3 * DAY_MS;
  const script = openDaily(seeded(2, "openings"), 4, START_MS, endMs);
  let state = beginLagLearning();
  const course: (readonly [atMs: number, airC: number, boxC: number])[] = [];
  let airC: number | null = null;
  for (const { reading, arrived, truth } of simulate({
    fridge,
    seed: 2,
    startMs: START_MS,
    endMs,
    probes,
    script,
  })) {
    if (!arrived || reading.temperatureC === null) continue;
    if (reading.probeId === "shed-air") {
      airC = reading.temperatureC;
      course.push([reading.takenAtMs, airC, (truth.boxC + truth.cocoonC) / 2]);
    } else if (airC !== null)
      state = stepLagLearning(state, reading.takenAtMs, airC, reading.temperatureC);
  }
  const off = (lagMs: number) => spreadOf(course, lagMs);
  const best = Math.min(...LAGS_MIN.map((lagMin) => off(lagMin * MINUTE_MS)));
  const { lagMs, isGoodEnough } = learnedLag(state)!;
  expect(isGoodEnough).toBe(true);
  expect(off(lagMs)).toBeLessThan(1.02 * best);
  expect(off(lagMs)).toBeLessThan(0.95 * off(HOUR_MS));
});

const LAGS_MIN = Array.from({ length: 40 }, (_, i) => 10 * 1.1 ** i);

/** Standard deviation of a box less what follows its air with one lag, after half a day. */
function spreadOf(course: readonly (readonly [number, number, number])[], lagMs: number): number {
  let followC = course[0]![2];
  const errors: number[] = [];
  for (const [i, [atMs, airC, boxC]] of course.entries()) {
    if (i === 0) continue;
    const [beforeMs, beforeC] = course[i - 1]!;
    followC = followLinear(followC, beforeC, airC, atMs - beforeMs, lagMs);
    if (atMs - course[0]![0] > 12 * HOUR_MS) errors.push(boxC - followC);
  }
  return standardDeviation(errors);
}

test("time that stands still or runs back teaches nothing", () => {
  const state = watch(1, { lagMin: 60, everyMin: 1 });
  expect(stepLagLearning(state, state.atMs, 9, 9)).toBe(state);
  expect(stepLagLearning(state, state.atMs - 1, 9, 9)).toBe(state);
});

test("a gap begins the followers afresh and keeps what was learned", () => {
  const state = watch(2, { lagMin: 60, everyMin: 1 });
  const after = stepLagLearning(state, state.atMs + HOUR_MS, 4, 6);
  expect(after.variance).toEqual(state.variance);
  expect(after.followerC.every((c) => c === 6)).toBe(true);
});
