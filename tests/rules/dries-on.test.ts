import fc from "fast-check";
import { expect, test } from "vitest";
import { dampByCalendar, driesOn } from "../../rules/dries-on.js";
import type { DryDay } from "../../rules/drying.js";
import { DAY_MS } from "../../shared/time.js";

const days = (values: readonly number[]): DryDay[] =>
  values.map((humidityPct, i) => ({ atMs: (i + 0.5) * DAY_MS, humidityPct, deficitHpaH: 0 }));

test("a box that loses half a percent a day leaves its band when the line says", () => {
  const course = days([70, 69.5, 69, 68.5, 68, 67.5, 67, 66.5]);
  // By hand: 66.5 % at day 7.5, 60 % thirteen days later.
  const { atMs, spanMs, basis } = driesOn(course, 60, 8 * DAY_MS)!;
  expect(atMs / DAY_MS).toBeCloseTo(20.5, 9);
  expect(spanMs.low / DAY_MS).toBeCloseTo(20.5, 9);
  expect(basis).toBe("trend");
});

test("an opening that let damp air in for a day does not move the date", () => {
  const course = days([70, 69.5, 69, 78, 68, 67.5, 67, 66.5]);
  const { atMs } = driesOn(course, 60, 8 * DAY_MS)!;
  // The middle of the line rises a little at most: less than a day.
  expect(Math.abs(atMs / DAY_MS - 20.5)).toBeLessThan(1);
});

test("noise widens the span about the date", () => {
  const course = days([70, 69.2, 69.5, 68.1, 68.6, 67.2, 67.3, 66.1, 66.4, 65.2]);
  const { atMs, spanMs } = driesOn(course, 60, 10 * DAY_MS)!;
  expect(spanMs.low).toBeLessThan(atMs);
  expect(spanMs.high).toBeGreaterThan(atMs);
});

test("a box already below its band is due now", () => {
  const now = 12 * DAY_MS;
  expect(driesOn(days([62, 61, 60, 59, 58, 57, 56]), 60, now)!.atMs).toBe(now);
});

test.each([
  ["few days", [70, 69, 68, 67, 66, 65]],
  ["a level course", [65, 65.2, 64.9, 65.1, 64.8, 65.2, 65, 64.9, 65.1]],
  ["a rising course", [60, 61, 62, 63, 64, 65, 66, 67]],
  ["a fall of a hundredth a day", [70, 69.99, 69.98, 69.97, 69.96, 69.95, 69.94]],
])("%s gives no date", (_name, values) => {
  expect(driesOn(days(values), 60, values.length * DAY_MS)).toBeNull();
});

test("the calendar asks for a look after two to four weeks", () => {
  // Once or twice a month: common practice, no source.
  const { spanMs, basis } = dampByCalendar(3 * DAY_MS);
  expect(spanMs).toEqual({ low: 17 * DAY_MS, high: 31 * DAY_MS });
  expect(basis).toBe("calendar");
});

test("no date lies in the past, nor outside its own span", () => {
  const pct = fc.double({ min: 30, max: 95, noNaN: true });
  fc.assert(
    fc.property(fc.array(pct, { minLength: 7, maxLength: 60 }), (values) => {
      const now = values.length * DAY_MS;
      const date = driesOn(days(values), 60, now);
      if (date === null) return;
      expect(date.atMs).toBeGreaterThanOrEqual(now);
      expect(date.spanMs.low).toBeLessThanOrEqual(date.atMs);
      expect(date.spanMs.high).toBeGreaterThanOrEqual(date.atMs);
    }),
    { seed: 39, numRuns: 300 },
  );
});
