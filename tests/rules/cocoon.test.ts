import { describe, expect, test } from "vitest";
import { beginCocoon, type CocoonState, followAir, hearBox } from "../../rules/cocoon.js";
import type { Chamber } from "../../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const CHAMBER: Chamber = {
  id: "shed",
  species: "osmia-bicornis",
  bandC: { low: 1.1, high: 3.3 },
  humidityBandPct: { low: 60, high: 70 },
  cocoonLagMs: 45 * MINUTE_MS,
};
const START_MS = Date.UTC(2025, 10, 1);

/** Cocoons after so many minutes of air, a reading each `stepMin`. */
function breathe(
  state: CocoonState,
  minutes: number,
  airC: (minute: number) => number,
  { fromMs = START_MS, stepMin = 1, chamber = CHAMBER } = {},
): CocoonState {
  let next = state;
  for (let m = 0; m <= minutes; m += stepMin)
    next = followAir(next, airC(m), fromMs + m * MINUTE_MS, chamber);
  return next;
}

const box = (atMs: number, temperatureC: number, probeId = "shed-box") => ({
  probeId,
  place: "box",
  atMs,
  temperatureC,
  humidityPct: null,
  freshMs: 8 * MINUTE_MS,
});

test("nothing is known before the first reading", () => {
  expect(beginCocoon().cocoonC).toBeNull();
});

test("cocoons follow a step of the air by Newton's law with the lag that was set", () => {
  const day = breathe(beginCocoon(), 24 * 60, () => 2);
  const fromMs = START_MS + 24 * HOUR_MS + 1;
  const after = breathe(day, 45, () => 12, { fromMs });
  // Textbook: after one lag, 1 − 1/e of the step.
  expect(after.cocoonC).toBeCloseTo(2 + 10 * 0.6321205588285577, 5);
});

test("a lag that was learned holds only where none was set", () => {
  const lagOf = (cocoonLagMs: number | null, learnedLagMs?: number): number => {
    const chamber = { ...CHAMBER, cocoonLagMs };
    const day = breathe(beginCocoon(), 24 * 60, () => 2, { chamber });
    const stepMs = START_MS + 24 * HOUR_MS + 1;
    const first = followAir(day, 12, stepMs, chamber, learnedLagMs);
    const last = followAir(first, 12, stepMs + 10 * MINUTE_MS, chamber, learnedLagMs);
    // Newton's law, solved for its time constant.
    return 10 / Math.log((12 - first.estimateC!) / (12 - last.estimateC!));
  };
  expect(lagOf(45 * MINUTE_MS, 20 * MINUTE_MS)).toBeCloseTo(45, 6);
  expect(lagOf(null, 20 * MINUTE_MS)).toBeCloseTo(20, 6);
  // An hour where nobody set or learned one: our choice.
  expect(lagOf(null)).toBeCloseTo(60, 6);
});

test("readings at other distances give the same cocoons", () => {
  const air = (minute: number) => 2 + 0.01 * minute;
  const each = (stepMin: number) => {
    const day = breathe(beginCocoon(), 24 * 60, () => 2);
    return breathe(day, 120, air, { fromMs: START_MS + 24 * HOUR_MS + 1, stepMin }).cocoonC!;
  };
  expect(each(5)).toBeCloseTo(each(1), 9);
  expect(each(30)).toBeCloseTo(each(1), 9);
});

test("cocoons swing far less than the thermostat", () => {
  const tooth = (m: number) => (m % 40 < 25 ? 1 + 0.12 * (m % 40) : 4 - 0.2 * ((m % 40) - 25));
  let state = breathe(beginCocoon(), 600, tooth);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let m = 601; m < 1_200; m++) {
    state = followAir(state, tooth(m), START_MS + m * MINUTE_MS, CHAMBER);
    low = Math.min(low, state.cocoonC!);
    high = Math.max(high, state.cocoonC!);
  }
  // A first-order lag of 45 min passes less than an eighth of the swing of a 40 min saw-tooth:
  // 1/√(1 + (2π·45/40)²) of its fundamental is 0.14, and its harmonics pass less.
  expect(high - low).toBeLessThan(0.5);
  expect((high + low) / 2).toBeCloseTo(2.5, 1);
});

test("a first reading at the top of a swing is soon outweighed", () => {
  const young = breathe(beginCocoon(), 60, (m) => (m === 0 ? 5 : 2));
  expect(Math.abs(young.cocoonC! - 2)).toBeLessThan(0.3);
});

describe("a probe in the box", () => {
  const day = breathe(beginCocoon(), 24 * 60, () => 2);
  const nowMs = START_MS + 24 * HOUR_MS;

  test("speaks for the cocoons while it is fresh", () => {
    const heard = hearBox(day, box(nowMs, 2.9), CHAMBER);
    expect(heard.cocoonC).toBe(2.9);
    expect(followAir(heard, 2, nowMs + 8 * MINUTE_MS, CHAMBER).cocoonC).toBe(2.9);
  });

  test("gives way to the estimate when it falls silent", () => {
    const heard = hearBox(day, box(nowMs, 2.9), CHAMBER);
    const later = followAir(heard, 2, nowMs + 8 * MINUTE_MS + 1, CHAMBER);
    expect(later.cocoonC).toBeCloseTo(2, 3);
  });

  test("that is worse off than the others speaks for the chamber, warm or cold", () => {
    const warm = hearBox(hearBox(day, box(nowMs, 3, "a"), CHAMBER), box(nowMs, 4, "b"), CHAMBER);
    expect(warm.cocoonC).toBe(4);
    const cold = hearBox(hearBox(day, box(nowMs, 0, "a"), CHAMBER), box(nowMs, 3, "b"), CHAMBER);
    expect(cold.cocoonC).toBe(0);
  });

  test("is remembered once, in an order that does not depend on who spoke first", () => {
    const one = hearBox(hearBox(day, box(nowMs, 3, "a"), CHAMBER), box(nowMs, 4, "b"), CHAMBER);
    const two = hearBox(hearBox(day, box(nowMs, 4, "b"), CHAMBER), box(nowMs, 3, "a"), CHAMBER);
    expect(one.boxes).toEqual(two.boxes);
    expect(hearBox(one, box(nowMs + 1, 3, "a"), CHAMBER).boxes).toHaveLength(2);
  });
});
