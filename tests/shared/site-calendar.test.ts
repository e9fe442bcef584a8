import fc from "fast-check";
import { expect, test } from "vitest";
import {
  formatClock,
  formatDay,
  formatMoment,
  localDay,
  startOfLocalDay,
  startOfLocalHour,
  startOfNextLocalDay,
} from "../../shared/site-calendar.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const LONDON = "Europe/London";
const LORD_HOWE = "Australia/Lord_Howe";
const KOLKATA = "Asia/Kolkata";
const utc = (text: string) => Date.parse(text);

test("a day is the site's day, not that of UTC", () => {
  expect(localDay(utc("2026-11-25T07:16:00Z"), LONDON)).toBe("2026-11-25");
  expect(localDay(utc("2026-07-01T23:30:00Z"), LONDON)).toBe("2026-07-02");
  expect(localDay(utc("2026-11-25T18:29:59.999Z"), KOLKATA)).toBe("2026-11-25");
  expect(localDay(utc("2026-11-25T18:30:00Z"), KOLKATA)).toBe("2026-11-26");
  expect(startOfLocalDay(utc("2026-11-25T18:30:00Z"), KOLKATA)).toBe(utc("2026-11-25T18:30:00Z"));
});

// Days with a change of the clocks, as `zdump -v -c 2026,2027` prints them from the IANA time
// zone database (2026): London moves at 01:00 UT on 29 March and 25 October, Lord Howe by half
// an hour at 15:00 UT on 4 April and 15:30 UT on 3 October.
test.each([
  { day: "2026-03-29", timezone: LONDON, hours: 23, start: "2026-03-29T00:00:00Z" },
  { day: "2026-10-25", timezone: LONDON, hours: 25, start: "2026-10-24T23:00:00Z" },
  { day: "2026-04-05", timezone: LORD_HOWE, hours: 24.5, start: "2026-04-04T13:00:00Z" },
  { day: "2026-10-04", timezone: LORD_HOWE, hours: 23.5, start: "2026-10-03T13:30:00Z" },
  { day: "2026-10-04", timezone: KOLKATA, hours: 24, start: "2026-10-03T18:30:00Z" },
])("$day in $timezone lasts $hours hours", ({ day, timezone, hours, start }) => {
  const startMs = utc(start);
  const endMs = startMs + hours * HOUR_MS;
  expect(startOfLocalDay(startMs, timezone)).toBe(startMs);
  expect(startOfLocalDay(endMs - 1, timezone)).toBe(startMs);
  expect(startOfNextLocalDay(startMs, timezone)).toBe(endMs);
  expect([startMs - 1, startMs, endMs - 1].map((atMs) => localDay(atMs, timezone) === day)).toEqual(
    [false, true, true],
  );
  expect(localDay(endMs, timezone) > day).toBe(true);
});

test("clock hours follow the zone's own half hours", () => {
  const startMs = startOfLocalHour(utc("2026-11-25T07:16:00Z"), KOLKATA);
  expect(startMs).toBe(utc("2026-11-25T06:30:00Z"));
});

test("an hour cut by a change of the clocks is an hour of its own", () => {
  // Lord Howe, 4 April: 01:59:59 +11 is followed by 01:30:00 +10:30 at 15:00 UT (zdump).
  const changeMs = utc("2026-04-04T15:00:00Z");
  expect(startOfLocalHour(changeMs - 1, LORD_HOWE)).toBe(utc("2026-04-04T14:00:00Z"));
  expect(startOfLocalHour(changeMs, LORD_HOWE)).toBe(changeMs);
  expect(startOfLocalHour(changeMs + 29 * MINUTE_MS, LORD_HOWE)).toBe(changeMs);
  expect(startOfLocalHour(changeMs + 30 * MINUTE_MS, LORD_HOWE)).toBe(changeMs + 30 * MINUTE_MS);
  expect(formatClock(changeMs - 1, LORD_HOWE)).toBe("01:59");
  expect(formatClock(changeMs, LORD_HOWE)).toBe("01:30");
  // London, 25 October: the clock shows 01:00 to 02:00 twice.
  const firstMs = utc("2026-10-25T00:20:00Z");
  expect(startOfLocalHour(firstMs, LONDON)).toBe(utc("2026-10-25T00:00:00Z"));
  expect(startOfLocalHour(firstMs + HOUR_MS, LONDON)).toBe(utc("2026-10-25T01:00:00Z"));
  expect(formatClock(firstMs, LONDON)).toBe("01:20");
  expect(formatClock(firstMs + HOUR_MS, LONDON)).toBe("01:20");
});

test("a letter says moments in the site's words", () => {
  const atMs = utc("2026-11-25T07:16:59Z");
  expect(formatMoment(atMs, LONDON)).toBe("Wed 25 Nov, 07:16");
  expect(formatMoment(atMs, KOLKATA)).toBe("Wed 25 Nov, 12:46");
  expect(formatDay(utc("2026-09-05T12:00:00Z"), LONDON)).toBe("Sat 5 Sep");
});

test("no zone, no moment: a caller's mistake", () => {
  expect(() => localDay(0, "Quillmere/Shed")).toThrow(RangeError);
  expect(() => localDay(Number.NaN, LONDON)).toThrow(RangeError);
  expect(() => startOfLocalHour(Number.POSITIVE_INFINITY, LONDON)).toThrow(RangeError);
});

const anyMoment = fc.integer({ min: Date.UTC(2020, 0, 1), max: Date.UTC(2040, 0, 1) });
const anyZone = fc.constantFrom(
  LONDON,
  LORD_HOWE,
  KOLKATA,
  "America/St_Johns",
  "Africa/Casablanca",
);

test("hours and days hold the moments that they begin, in whatever order they are asked", () => {
  fc.assert(
    fc.property(anyMoment, anyZone, (atMs, timezone) => {
      const hourMs = startOfLocalHour(atMs, timezone);
      expect(hourMs).toBeLessThanOrEqual(atMs);
      expect(atMs - hourMs).toBeLessThan(HOUR_MS);
      expect(startOfLocalHour(hourMs, timezone)).toBe(hourMs);
      const dayMs = startOfLocalDay(atMs, timezone);
      expect(dayMs).toBeLessThanOrEqual(hourMs);
      const lengthMs = startOfNextLocalDay(atMs, timezone) - dayMs;
      expect(Math.abs(lengthMs - DAY_MS)).toBeLessThanOrEqual(HOUR_MS);
      expect(localDay(dayMs, timezone)).toBe(localDay(atMs, timezone));
      expect(localDay(dayMs - 1, timezone) < localDay(atMs, timezone)).toBe(true);
    }),
    { seed: 2026, numRuns: 200 },
  );
});

test("days and clocks agree with the runtime's own calendar", () => {
  fc.assert(
    fc.property(anyMoment, anyZone, (atMs, timeZone) => {
      // ECMA-402, an implementation apart from the one that finds our days.
      const day = new Intl.DateTimeFormat("sv-SE", { timeZone, dateStyle: "short" }).format(atMs);
      const clock = new Intl.DateTimeFormat("sv-SE", { timeZone, timeStyle: "short" }).format(atMs);
      expect(`${localDay(atMs, timeZone)} ${formatClock(atMs, timeZone)}`).toBe(`${day} ${clock}`);
    }),
    { seed: 402, numRuns: 200 },
  );
});
