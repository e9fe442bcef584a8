import fc from "fast-check";
import { expect, test } from "vitest";
import { beginDrying, type Drying, damp, deficitHours, stepDrying } from "../../rules/drying.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";

const ZONE = "Europe/London";
// Midnight in London, in winter time.
const MIDNIGHT_MS = Date.UTC(2026, 0, 5);

/** An hour each: humidity, % and deficit, hPa, by the hour. */
function live(
  hours: number,
  at: (hour: number) => readonly [pct: number, hpa: number],
  from: Drying = beginDrying(),
  startMs = MIDNIGHT_MS,
): Drying {
  let state = from;
  for (let hour = 0; hour <= hours; hour++)
    state = stepDrying(state, startMs + hour * HOUR_MS, ...at(hour), ZONE);
  return state;
}

test("a steady deficit adds up by the hour", () => {
  // By hand: 2.5 hPa for 30 h.
  expect(deficitHours(live(30, () => [65, 2.5]))).toBeCloseTo(75, 9);
});

test("a straight line counts as its triangle", () => {
  // By hand: 0 to 4 hPa in 8 h.
  expect(deficitHours(live(8, (h) => [65, h / 2]))).toBeCloseTo(16, 9);
});

test("each whole day has its mean, and the present one none yet", () => {
  const { days } = live(24 * 3 + 5, (h) => [70 - Math.floor((h - 0.5) / 24), 2]);
  expect(days.map((d) => Math.round(d.humidityPct))).toEqual([70, 69, 68]);
  expect(days.map((d) => (d.atMs - MIDNIGHT_MS) / HOUR_MS)).toEqual([12, 36, 60]);
});

test("a day of which less than six hours were seen has no mean but its deficit counts", () => {
  const early = live(5, () => [65, 2], beginDrying(), MIDNIGHT_MS + 18.5 * HOUR_MS);
  const next = live(30, () => [65, 2], early, MIDNIGHT_MS + 24 * HOUR_MS);
  expect(next.days).toHaveLength(1);
  expect(deficitHours(next)).toBeCloseTo(2 * 35.5, 9);
});

test("damping starts afresh, by the day when it is said late", () => {
  const course = live(24 * 10 + 12, () => [65, 2]);
  const now = damp(course, course.atMs);
  expect(deficitHours(now)).toBe(0);
  expect(now.days).toHaveLength(0);
  const late = damp(course, MIDNIGHT_MS + 4 * DAY_MS + 9 * HOUR_MS);
  // The fifth day is left out, but for its last hour, whose step ends with the day: five whole
  // days and thirteen hours of 2 hPa are left.
  expect(late.days).toHaveLength(5);
  expect(deficitHours(late)).toBeCloseTo(2 * (5 * 24 + 13), 6);
});

test("a damping older than the last one, told again or told late, changes nothing", () => {
  const course = damp(
    live(100, () => [65, 2]),
    MIDNIGHT_MS + 3 * DAY_MS,
  );
  expect(damp(course, MIDNIGHT_MS + 3 * DAY_MS)).toBe(course);
  expect(damp(course, MIDNIGHT_MS + DAY_MS)).toBe(course);
});

test("only the last sixty days are kept, and no deficit is lost with the others", () => {
  const course = live(24 * 80, () => [65, 2]);
  expect(course.days).toHaveLength(60);
  expect(deficitHours(course)).toBeCloseTo(2 * 24 * 80, 6);
});

test("time that was not seen, stands still or runs back adds nothing", () => {
  const course = live(10, () => [65, 2]);
  const later = stepDrying(course, course.atMs + 3 * HOUR_MS, 60, 3, ZONE);
  expect(deficitHours(later)).toBe(deficitHours(course));
  expect(stepDrying(course, course.atMs, 60, 3, ZONE)).toBe(course);
  expect(stepDrying(course, course.atMs - 1, 60, 3, ZONE)).toBe(course);
});

test("splitting an interval changes no deficit", () => {
  const value = fc.double({ min: 0, max: 8, noNaN: true });
  fc.assert(
    fc.property(value, value, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (a, b, share) => {
      const start = stepDrying(beginDrying(), MIDNIGHT_MS, 65, a, ZONE);
      const whole = stepDrying(start, MIDNIGHT_MS + HOUR_MS, 65, b, ZONE);
      const middle = stepDrying(
        start,
        MIDNIGHT_MS + HOUR_MS * share,
        65,
        a + (b - a) * share,
        ZONE,
      );
      const split = stepDrying(middle, MIDNIGHT_MS + HOUR_MS, 65, b, ZONE);
      expect(deficitHours(split)).toBeCloseTo(deficitHours(whole), 9);
    }),
    { seed: 38 },
  );
});
