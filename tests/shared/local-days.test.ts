import fc from "fast-check";
import { expect, test } from "vitest";
import { localDayStarts, localMonthStarts } from "../../shared/local-days.js";
import { localDay, startOfLocalDay, startOfNextLocalDay } from "../../shared/site-calendar.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";

// Clocks change at midnight in Beirut and Santiago, by half an hour on Lord Howe Island, twice
// within weeks in Casablanca; Apia left a whole day out in 2011.
const ZONES = [
  "Europe/London",
  "UTC",
  "Asia/Beirut",
  "America/Santiago",
  "Australia/Lord_Howe",
  "Africa/Casablanca",
  "Pacific/Apia",
  "Asia/Kathmandu",
];

test("days are those that one finds by asking for each next day", () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...ZONES),
      fc.integer({ min: Date.UTC(2011, 10, 1), max: Date.UTC(2028, 0, 1) }),
      fc.integer({ min: 1, max: 60 * 24 }),
      (timezone, fromMs, hours) => {
        const toMs = fromMs + hours * HOUR_MS;
        const expected = [startOfLocalDay(fromMs, timezone)];
        while (expected.at(-1)! < toMs)
          expected.push(startOfNextLocalDay(expected.at(-1)!, timezone));
        expect(localDayStarts({ fromMs, toMs }, timezone)).toEqual(expected);
      },
    ),
    { seed: 20261125, numRuns: 60 },
  );
});

test("months begin on their first day, whatever clocks do within them", () => {
  const span = { fromMs: Date.UTC(2026, 9, 12), toMs: Date.UTC(2027, 3, 2) };
  const starts = localMonthStarts(span, "Europe/London");
  expect(starts.map((ms) => localDay(ms, "Europe/London"))).toEqual(
    ["2026-10", "2026-11", "2026-12", "2027-01", "2027-02", "2027-03", "2027-04", "2027-05"].map(
      (month) => `${month}-01`,
    ),
  );
  // At London clocks go back on 25 October 2026 and forward on 28 March 2027.
  expect(starts[1]! - starts[0]!).toBe(31 * DAY_MS + HOUR_MS);
  expect(starts[6]! - starts[5]!).toBe(31 * DAY_MS - HOUR_MS);
});

test("a stretch that ends with a day or a month does not touch the next one", () => {
  const span = { fromMs: Date.UTC(2026, 11, 1), toMs: Date.UTC(2027, 0, 1) };
  expect(localDayStarts(span, "UTC")).toHaveLength(32);
  expect(localMonthStarts(span, "UTC")).toHaveLength(2);
});
