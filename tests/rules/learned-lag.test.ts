import { describe, expect, test } from "vitest";
import { followLinear } from "../../rules/lag.js";
import {
  beginLagLearning,
  type LagLearning,
  learnedLag,
  stepLagLearning,
} from "../../rules/learned-lag.js";
import { draw, seeded } from "../../sensors/simulated/seeded.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

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
