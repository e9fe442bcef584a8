import { describe, expect, test } from "vitest";
import {
  type Known,
  largeOpeningC,
  learnLongRise,
  learnOpening,
  longOpeningMin,
  longRises,
  NOTHING_KNOWN,
} from "../../rules/acquaintance.js";
import { noticeRise, type Rise } from "../../rules/rise.js";
import { clockOf, isTooSoon, scheduleAt } from "../../rules/schedule.js";
import { draw, drawBetween, seeded } from "../../sensors/simulated/seeded.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2025, 10, 1);

/** A rise of the air by so much within so many minutes. */
function riseOf(onsetMs: number, byC = 4, minutes = 3): Rise {
  const samples = Array.from({ length: minutes + 1 }, (_, i) => ({
    atMs: onsetMs + i * MINUTE_MS,
    airC: 2 + (byC * i) / minutes,
    hpa: null,
  }));
  return noticeRise(samples, null)!;
}

const knowLong = (onsetsMs: readonly number[]): Known =>
  onsetsMs.reduce((known, onsetMs) => learnLongRise(known, riseOf(onsetMs)), NOTHING_KNOWN);

describe("a defrost timer of 8 h", () => {
  // Three days of defrosts, each up to three minutes early or late.
  const random = seeded(1, "timer");
  const onsets = Array.from(
    { length: 9 },
    (_, i) => START_MS + i * 8 * HOUR_MS + drawBetween(random, -3, 3) * MINUTE_MS,
  );
  const known = knowLong(onsets);
  const nextMs = START_MS + 9 * 8 * HOUR_MS;

  test("is found, and its next defrost is due", () => {
    expect(scheduleAt(clockOf(known, nextMs))).toBe("due");
  });

  test.each([1, 2.5, 4, 6.5])("has nothing due %s h before its next defrost", (hours) => {
    expect(scheduleAt(clockOf(known, nextMs - hours * HOUR_MS))).toBe("not due");
  });

  test("is found though a defrost in five was not seen", () => {
    expect(scheduleAt(clockOf(knowLong(onsets.filter((_, i) => i % 5 !== 3)), nextMs))).toBe("due");
  });

  test("is found though a long opening came between", () => {
    const disturbed = [...onsets, START_MS + 3.3 * HOUR_MS, START_MS + 29 * HOUR_MS].sort(
      (a, b) => a - b,
    );
    expect(scheduleAt(clockOf(knowLong(disturbed), nextMs))).toBe("due");
    expect(scheduleAt(clockOf(knowLong(disturbed), nextMs - 3 * HOUR_MS))).toBe("not due");
  });
});

test("long rises at random are no schedule, hardly ever", () => {
  let found = 0;
  for (let seed = 1; seed <= 100; seed++) {
    const random = seeded(seed, "random");
    const onsets: number[] = [];
    let atMs = START_MS;
    for (let i = 0; i < 16; i++) {
      atMs += -Math.log(1 - draw(random)) * 8 * HOUR_MS + 30 * MINUTE_MS;
      onsets.push(atMs);
    }
    if (scheduleAt(clockOf(knowLong(onsets), atMs + 5 * HOUR_MS)) !== "none") found++;
  }
  expect(found).toBeLessThanOrEqual(2);
});

test("four long rises are too few to be a schedule", () => {
  const onsets = [0, 8, 16, 24, 32].map((h) => START_MS + h * HOUR_MS);
  expect(scheduleAt(clockOf(knowLong(onsets.slice(0, 4)), START_MS + 32 * HOUR_MS))).toBe("none");
  expect(scheduleAt(clockOf(knowLong(onsets), START_MS + 40 * HOUR_MS))).toBe("due");
});

test("a rise is judged by what came before it, not by itself", () => {
  const onsets = [0, 8, 16, 24, 32].map((h) => START_MS + h * HOUR_MS);
  const known = knowLong(onsets);
  expect(scheduleAt(clockOf(known, onsets[4]!))).toBe("none");
  expect(longRises(known, onsets[4]!).count).toBe(4);
});

test("a rise learned twice is known once", () => {
  const rise = riseOf(START_MS);
  const once = learnLongRise(NOTHING_KNOWN, rise);
  expect(learnLongRise(once, rise)).toBe(once);
});

test("soon after the last of several defrosts the next cannot be due", () => {
  const onsets = Array.from({ length: 8 }, (_, i) => START_MS + i * 8 * HOUR_MS);
  const known = knowLong(onsets);
  expect(isTooSoon(known, onsets[7]! + 2 * HOUR_MS)).toBe(true);
  expect(isTooSoon(known, onsets[7]! + 7.5 * HOUR_MS)).toBe(false);
  expect(isTooSoon(knowLong(onsets.slice(0, 4)), onsets[3]! + 2 * HOUR_MS)).toBe(false);
});

test("long rises of more than a week ago are no longer of the last days", () => {
  const onsets = Array.from({ length: 8 }, (_, i) => START_MS + i * 8 * HOUR_MS);
  const known = knowLong(onsets);
  expect(longRises(known, START_MS + 3 * DAY_MS).count).toBe(8);
  expect(longRises(known, START_MS + 10 * DAY_MS).count).toBe(0);
});

test("a fridge's openings are known from the sixth on, by their large and long ones", () => {
  let known = NOTHING_KNOWN;
  for (let i = 1; i <= 5; i++)
    known = learnOpening(known, riseOf(START_MS + i * HOUR_MS, i + 2, 3));
  expect(largeOpeningC(known)).toBeNull();
  expect(longOpeningMin(known)).toBeNull();
  known = learnOpening(known, riseOf(START_MS + 6 * HOUR_MS, 8, 4));
  // Of rises by 3 to 8 K in 3 min, the last in 4: the large one is among the larger, the long one
  // is the longest or nearly.
  expect(largeOpeningC(known)).toBeGreaterThanOrEqual(6);
  expect(largeOpeningC(known)).toBeLessThanOrEqual(8);
  expect(longOpeningMin(known)).toBeGreaterThanOrEqual(3.5);
  expect(longOpeningMin(known)).toBeLessThanOrEqual(4);
});

test("what is known does not grow without end", () => {
  let known = NOTHING_KNOWN;
  for (let i = 0; i < 500; i++) {
    known = learnOpening(known, riseOf(START_MS + i * HOUR_MS));
    known = learnLongRise(known, riseOf(START_MS + i * HOUR_MS));
  }
  expect(JSON.stringify(known).length).toBeLessThan(6_000);
});
