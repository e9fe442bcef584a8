import fc from "fast-check";
import { expect, test } from "vitest";
import { beginChillDays, type ChillDays, stepChillDays } from "../../rules/chill-days.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2026, 0, 5);

function live(points: readonly (readonly [hours: number, cocoonC: number])[]): ChillDays {
  return points.reduce(
    (state, [hours, c]) => stepChillDays(state, START_MS + hours * HOUR_MS, c, 7, 24 * DAY_MS),
    beginChillDays(),
  );
}

test("days at fridge temperature count whole, days in a room not at all", () => {
  expect(
    live([
      [0, 3],
      [48, 3],
    ]).days,
  ).toBe(2);
  expect(
    live([
      [0, 20],
      [48, 20],
    ]).days,
  ).toBe(0);
  expect(
    live([
      [0, 7],
      [24, 7],
    ]).days,
  ).toBe(1);
});

test("a line through the limit counts only what lies below it", () => {
  // By hand: 3 → 11 °C in a day is below 7 °C for half of it, either way.
  expect(
    live([
      [0, 3],
      [24, 11],
    ]).days,
  ).toBeCloseTo(0.5, 12);
  expect(
    live([
      [0, 11],
      [24, 3],
    ]).days,
  ).toBeCloseTo(0.5, 12);
});

test("time that was not seen, stands still or runs back adds nothing", () => {
  const day = live([
    [0, 3],
    [24, 3],
  ]);
  expect(stepChillDays(day, day.atMs + 2 * HOUR_MS, 3, 7, HOUR_MS).days).toBe(day.days);
  expect(stepChillDays(day, day.atMs, 3, 7, HOUR_MS)).toBe(day);
  expect(stepChillDays(day, day.atMs - 1, 3, 7, HOUR_MS)).toBe(day);
  expect(stepChillDays(day, day.atMs + HOUR_MS, 3, 7, HOUR_MS).days).toBeCloseTo(25 / 24, 12);
});

test("splitting an interval changes nothing, and warmth never adds chill", () => {
  const c = fc.double({ min: -5, max: 20, noNaN: true });
  fc.assert(
    fc.property(c, c, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (a, b, share) => {
      const whole = live([
        [0, a],
        [10, b],
      ]).days;
      expect(
        live([
          [0, a],
          [10 * share, a + (b - a) * share],
          [10, b],
        ]).days,
      ).toBeCloseTo(whole, 9);
      expect(
        live([
          [0, a + 1],
          [10, b + 1],
        ]).days,
      ).toBeLessThanOrEqual(whole + 1e-12);
      expect(whole).toBeLessThanOrEqual((10 * HOUR_MS) / DAY_MS);
    }),
    { seed: 40 },
  );
});
