import { describe, expect, test } from "vitest";
import {
  learnedWarming,
  NOTHING_LEARNED,
  stepWarming,
  type WarmingLearning,
} from "../../rules/learned-warming.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2026, 0, 5);

type Spell = Readonly<{
  hours: number;
  lagH: number;
  roomC?: number | null;
  fromMs?: number;
  wave?: number;
}>;

/** One spell without cooling, a reading a minute, and its end. */
function spell(what: Spell, from: WarmingLearning = NOTHING_LEARNED): WarmingLearning {
  const { hours, lagH, roomC = 20, fromMs = START_MS, wave = 0 } = what;
  let state = from;
  for (let minute = 0; minute <= hours * 60; minute++) {
    const airC = 20 - 17 * Math.exp(-minute / 60 / lagH) + wave * Math.sin(minute / 7);
    state = stepWarming(state, fromMs + minute * MINUTE_MS, airC, roomC, true);
  }
  return stepWarming(state, fromMs + (hours * 60 + 1) * MINUTE_MS, 8, roomC, false);
}

describe("the warming of a chamber that is not cooled", () => {
  test.each([3, 6, 12])("has the time constant of %s h with which it was made", (lagH) => {
    const learned = learnedWarming(spell({ hours: 4, lagH }))!;
    expect(learned.lagMs / HOUR_MS).toBeCloseTo(lagH, 6);
    expect(learned.spanMs.low / HOUR_MS).toBeCloseTo(lagH / 1.6, 6);
    expect(learned.spanMs.high / HOUR_MS).toBeCloseTo(lagH * 1.6, 6);
    expect(learned.isGoodEnough).toBe(true);
  });

  test("fits the published course of a body that cools, told at odd times", () => {
    // Newton's law, τ = 640 s towards 4 °C, computed independently in double precision; scaled here
    // to hours and turned about 13 °C, so that it warms: the law is the same.
    const course = [
      [0, 22],
      [30, 21.17571998744539],
      [75, 20.009531408367202],
      [180, 17.58711283580213],
      [420, 13.338276981770008],
      [800, 9.15708634348342],
      [1500, 5.727407548809973],
    ] as const;
    let state = stepWarming(NOTHING_LEARNED, START_MS - HOUR_MS, 3, 22, true);
    for (const [s, c] of course) {
      // Each is told several times in a row: a line needs ten readings, and repeats bend none.
      for (let again = 0; again < 2; again++)
        state = stepWarming(state, START_MS + s * 30_000 + again * MINUTE_MS, 26 - c, 22, true);
    }
    const learned = learnedWarming(stepWarming(state, START_MS + 24 * HOUR_MS, 20, 22, false))!;
    // 640 s in steps of 30: 5.33 h. The repeats come a minute late.
    expect(Math.abs(learned.lagMs / HOUR_MS / (640 / 120) - 1)).toBeLessThan(0.02);
  });

  test("is not learned without a probe in the room", () => {
    expect(learnedWarming(spell({ hours: 4, lagH: 6, roomC: null }))).toBeNull();
  });

  test("is not learned from a spell too short, or from air that goes its own way", () => {
    expect(learnedWarming(spell({ hours: 1.2, lagH: 6 }))).toBeNull();
    expect(learnedWarming(spell({ hours: 1.3, lagH: 6 }))).not.toBeNull();
    expect(learnedWarming(spell({ hours: 2, lagH: 6, wave: 1.5 }))).toBeNull();
    expect(learnedWarming(spell({ hours: 2, lagH: 6, wave: 0.2 }))).not.toBeNull();
  });

  test("is learned before the air comes so near the room that noise outweighs the rest", () => {
    const learned = learnedWarming(spell({ hours: 20, lagH: 3, wave: 0.1 }))!;
    expect(Math.abs(learned.lagMs / HOUR_MS / 3 - 1)).toBeLessThan(0.03);
  });

  test("is the middle of several spells, and doubted where they differ", () => {
    let state = spell({ hours: 4, lagH: 4 });
    state = spell({ hours: 4, lagH: 5, fromMs: START_MS + 24 * HOUR_MS }, state);
    state = spell({ hours: 4, lagH: 4.5, fromMs: START_MS + 48 * HOUR_MS }, state);
    expect(learnedWarming(state)!.lagMs / HOUR_MS).toBeCloseTo(4.5, 6);
    expect(learnedWarming(state)!.isGoodEnough).toBe(true);
    state = spell({ hours: 4, lagH: 14, fromMs: START_MS + 72 * HOUR_MS }, state);
    expect(learnedWarming(state)!.isGoodEnough).toBe(false);
  });

  test("remembers the last eight spells", () => {
    let state = NOTHING_LEARNED;
    for (let i = 0; i < 10; i++)
      state = spell({ hours: 4, lagH: i < 2 ? 14 : 5, fromMs: START_MS + i * 24 * HOUR_MS }, state);
    expect(state.lagsMs).toHaveLength(8);
    expect(learnedWarming(state)!.spanMs.high / HOUR_MS).toBeCloseTo(6.5, 6);
  });
});

test("a chamber that cools as it should teaches nothing and costs nothing", () => {
  expect(stepWarming(NOTHING_LEARNED, START_MS, 3, 20, false)).toBe(NOTHING_LEARNED);
});
