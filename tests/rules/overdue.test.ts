import { describe, expect, test } from "vitest";
import type { Habit } from "../../rules/cycle.js";
import {
  isOverdue,
  jumpedAndStands,
  NOT_OVERDUE,
  type Standing,
  stepOverdue,
} from "../../rules/overdue.js";
import { type AirSample, rememberAir } from "../../rules/recent-air.js";
import { MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2025, 10, 1);
const HABIT: Habit = {
  turns: 24,
  topC: 4,
  bottomC: 1,
  usualTopC: 4,
  usualBottomC: 1,
  riseMs: 25 * MINUTE_MS,
  fallMs: 15 * MINUTE_MS,
  steepest: 0.12,
};

/** Minutes after the start at which a compressor is called overdue, air each minute; null never. */
function overdueAfterMin(
  airAtMin: (minute: number) => number,
  minutes: number,
  { habit = HABIT as Habit | null, standing = "usual" as Standing } = {},
): number | null {
  let overdue = NOT_OVERDUE;
  let recent: readonly AirSample[] = [];
  for (let minute = 0; minute <= minutes; minute++) {
    const sample = { atMs: START_MS + minute * MINUTE_MS, airC: airAtMin(minute), hpa: null };
    recent = rememberAir(recent, sample);
    overdue = stepOverdue(overdue, recent, habit);
    if (isOverdue(overdue, sample, recent, habit, standing)) return minute;
  }
  return null;
}

/** Air that warms on and on, past the usual top at 0 min, as behind a shut door. */
const dead = (minute: number) => 4.02 + 0.02 * minute;

describe("a compressor that does not start", () => {
  test("is overdue within an hour after the air passed its usual top", () => {
    const afterMin = overdueAfterMin(dead, 300)!;
    expect(afterMin).toBeLessThanOrEqual(60);
    // Openings, defrosts and their recovery keep the air up for half an hour.
    expect(afterMin).toBeGreaterThan(30);
  });

  test("is given longer while the fridge recovers, but not for ever", () => {
    const afterMin = overdueAfterMin(dead, 300, { standing: "recovering" })!;
    expect(afterMin).toBeGreaterThan(overdueAfterMin(dead, 300)!);
    expect(afterMin).toBeLessThanOrEqual(120);
  });

  test("is given longer where no long defrost can have been seen yet, and still no hour", () => {
    const afterMin = overdueAfterMin(dead, 300, { standing: "new" })!;
    expect(afterMin).toBeGreaterThan(overdueAfterMin(dead, 300)!);
    expect(afterMin).toBeLessThanOrEqual(60);
  });

  test("is overdue in a fridge nobody knows yet, once it is plainly warm", () => {
    expect(overdueAfterMin((m) => 5 + 0.02 * m, 600, { habit: null })).not.toBeNull();
    expect(overdueAfterMin(() => 5.9, 600, { habit: null })).toBeNull();
  });

  test("is overdue by the many days' top where the last day's has crept down", () => {
    const crept = { ...HABIT, topC: 2.5, usualTopC: 4 };
    expect(overdueAfterMin(() => 3.5, 600, { habit: crept })).toBeNull();
  });
});

describe("a compressor is not overdue", () => {
  test("while it turns above its usual top, as after a door was left open for hours", () => {
    // From 6.5 down to 4.8 °C and back each 50 min: 1.7 K of the usual swing of 3 K.
    const above = (minute: number) => {
      const phase = minute % 50;
      return phase < 35 ? 4.8 + (1.7 * phase) / 35 : 6.5 - (1.7 * (phase - 35)) / 15;
    };
    expect(overdueAfterMin(above, 600)).toBeNull();
  });

  test("in its usual turns", () => {
    const tooth = (minute: number) => {
      const phase = minute % 40;
      return phase < 25 ? 1 + 0.12 * phase : 4 - 0.2 * (phase - 25);
    };
    expect(overdueAfterMin(tooth, 24 * 60)).toBeNull();
  });

  test("while the air comes down, however slowly and however long it takes", () => {
    expect(overdueAfterMin((m) => 9 - 0.05 * m, 90)).toBeNull();
  });

  test("through a defrost of half an hour and its recovery", () => {
    const defrost = (m: number) => (m < 30 ? 3 + 0.2 * m : Math.max(2, 9 - 0.25 * (m - 30)));
    expect(overdueAfterMin(defrost, 120)).toBeNull();
  });

  test("at air that has just reached the top", () => {
    expect(overdueAfterMin((m) => 3.9 + 0.001 * m, 90)).toBeNull();
  });
});

describe("air that stands too high began there", () => {
  /** Whether, after so many minutes of this air, it is taken for a door in a cool room. */
  function isDoorAfter(minutes: number, airAtMin: (minute: number) => number, stepMin = 1) {
    let overdue = NOT_OVERDUE;
    let recent: readonly AirSample[] = [];
    for (let minute = -30; minute <= minutes; minute += stepMin) {
      const sample = { atMs: START_MS + minute * MINUTE_MS, airC: airAtMin(minute), hpa: null };
      recent = rememberAir(recent, sample);
      overdue = stepOverdue(overdue, recent, HABIT);
    }
    return jumpedAndStands(overdue, recent.at(-1)!);
  }
  // Usual pauses of this fridge warm by 0.12 K a minute.
  const pause = (minute: number) => 3.5 + 0.12 * minute;

  test.each([1, 5])("with a jump, and stands: a door (read each %s min)", (stepMin) => {
    const jumps = (m: number) => (m <= 0 ? 2 + 0.05 * m : Math.min(4.4, 2 + 0.8 * m));
    expect(isDoorAfter(45, jumps, stepMin)).toBe(true);
  });

  test("with a pause that did not end: no door", () => {
    expect(isDoorAfter(45, (m) => (m < 8 ? pause(m) : pause(8) + 0.03 * (m - 8)))).toBe(false);
    expect(isDoorAfter(45, (m) => Math.min(4.4, pause(m)))).toBe(false);
  });

  test("with a jump, and warms on behind a shut door: no door", () => {
    const warmsOn = (m: number) => (m <= 0 ? 2 : Math.min(4.4, 2 + 0.8 * m) + 0.04 * m);
    expect(isDoorAfter(45, warmsOn)).toBe(false);
  });

  test("with a jump that is long over: what began later counts", () => {
    const twice = (m: number) => {
      if (m <= 0) return 2;
      if (m < 10) return 4.5;
      return m < 60 ? 2 : Math.min(4.4, 2 + 0.1 * (m - 60));
    };
    expect(isDoorAfter(9, twice)).toBe(true);
    expect(isDoorAfter(130, twice)).toBe(false);
  });
});
