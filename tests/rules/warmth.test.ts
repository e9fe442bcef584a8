import { describe, expect, test } from "vitest";
import { AT_EASE, stepWarmth, type Warmth, warmthUrgency } from "../../rules/warmth.js";
import type { Urgency } from "../../shared/excursion.js";
import { MINUTE_MS } from "../../shared/time.js";

// Trade's fridge band, common practice, no source.
const BAND = { low: 1.1, high: 3.3 };
const START_MS = Date.UTC(2025, 10, 1);

/** What is asked after a stretch of a minute each at these temperatures. */
function askedAfter(minutesAtC: readonly (readonly [minutes: number, cocoonC: number])[]) {
  let warmth: Warmth = AT_EASE;
  let atMs = START_MS;
  let asked: Urgency | null = null;
  for (const [minutes, cocoonC] of minutesAtC)
    for (let i = 0; i < minutes; i++) {
      atMs += MINUTE_MS;
      warmth = stepWarmth(warmth, cocoonC, BAND, atMs);
      asked = warmthUrgency(warmth, atMs);
    }
  return asked;
}

describe("cocoons of a given warmth ask", () => {
  // The first of n minutes starts the hold, so that n − 1 minutes have passed at the last.
  test.each([
    ["nothing in the band, however long", 60 * 24 * 10, 3.3, null],
    ["nothing a little above it, however long", 60 * 24 * 10, 3.59, null],
    ["nothing within the hour", 60, 3.61, null],
    ["a note after an hour", 61, 3.61, "note"],
    ["still a note after days", 60 * 24 * 4, 3.99, "note"],
    ["still a note just within a day of 0.7 K above", 60 * 24, 4.01, "note"],
    ["a visit after a day plainly above", 60 * 24 + 1, 4.01, "visit"],
    ["nothing in the first half hour at 5 °C", 30, 5.01, null],
    ["a visit after half an hour above 5 °C", 31, 5.01, "visit"],
    ["nothing in the first quarter at 10 °C", 15, 10, null],
    ["to run after a quarter of an hour at 10 °C", 16, 10, "rush"],
    // BK03: male Osmia lignaria suffer at 10 °C and above, even briefly; just below is a visit.
    ["a visit however long at 9.9 °C", 60 * 30, 9.9, "visit"],
  ] as const)("%s", (_name, minutes, cocoonC, asked) => {
    expect(askedAfter([[minutes, cocoonC]])).toBe(asked);
  });
});

test("a dip back into the band starts every wait afresh", () => {
  expect(
    askedAfter([
      [30, 10],
      [1, 3.2],
      [15, 10],
    ]),
  ).toBeNull();
});

test("once above, it counts as above until it is back in the band", () => {
  expect(
    askedAfter([
      [2, 3.7],
      [60, 3.4],
    ]),
  ).toBe("note");
  expect(
    askedAfter([
      [2, 3.7],
      [1, 3.3],
      [60, 3.4],
    ]),
  ).toBeNull();
});

test("what warmth asked is over as soon as it has passed", () => {
  expect(
    askedAfter([
      [120, 12],
      [1, 3],
    ]),
  ).toBeNull();
});

test("a band that reaches up to 10 °C leaves no warmth behind once it is cool", () => {
  const wide = { low: 1, high: 12 };
  let warmth: Warmth = AT_EASE;
  const live = (fromMin: number, toMin: number, cocoonC: number) => {
    for (let i = fromMin; i <= toMin; i++)
      warmth = stepWarmth(warmth, cocoonC, wide, START_MS + i * MINUTE_MS);
  };
  live(0, 2, 11);
  live(3, 60, 5);
  expect(warmthUrgency(warmth, START_MS + 60 * MINUTE_MS)).toBeNull();
});

describe("hot cocoons that the air already cools", () => {
  const askedAt = (minutes: number, airC: number): Urgency | null => {
    let warmth: Warmth = AT_EASE;
    for (let i = 0; i < minutes; i++)
      warmth = stepWarmth(warmth, 5.5, BAND, START_MS + i * MINUTE_MS, airC);
    return warmthUrgency(warmth, START_MS + (minutes - 1) * MINUTE_MS);
  };

  test("ask nobody to come after a long defrost", () => {
    expect(askedAt(80, 3)).not.toBe("visit");
  });

  test("ask for a visit in half an hour when the air is as warm as they are", () => {
    expect(askedAt(31, 5.4)).toBe("visit");
  });

  test("ask for a visit all the same when they stay hot", () => {
    expect(askedAt(91, 3)).toBe("visit");
  });
});
