import type { Span } from "../shared/site.js";
import { DAY_MS } from "../shared/time.js";
import type { DryDay } from "./drying.js";
import { theilSen } from "./trend.js";

/** When a box falls out of its humidity band, Unix ms, with its span, and how that is known. */
export type DriesOn = Readonly<{
  atMs: number;
  spanMs: Span;
  basis: "trend" | "calendar";
}>;

/** Fewer whole days since the damping show no trend; our choice. */
export const TREND_DAYS_LEAST = 7;
/** A date further off than this is none; our choice. */
const AHEAD_MOST_MS = 60 * DAY_MS;
/** A few drops once or twice a month: common practice, no source. */
const DAMP_EVERY_MS: Span = { low: 14 * DAY_MS, high: 28 * DAY_MS };

/**
 * The day on which the box falls below its humidity band, by the trend of its daily means.
 *
 * The span takes the trend's slope at both ends of its 90 % confidence; it says nothing of a fridge
 * that changes its ways.
 *
 * @param days whole days since the last damping, oldest first
 * @param bandLowPct lower edge of the humidity band, %
 * @param nowMs Unix ms
 * @returns null where there is no clear fall: too few days, a slope that may as well be none, or a
 *   date more than 60 days off. A date already past is `nowMs`
 */
export function driesOn(
  days: readonly DryDay[],
  bandLowPct: number,
  nowMs: number,
): DriesOn | null {
  if (days.length < TREND_DAYS_LEAST) return null;
  const trend = theilSen(days.map((day) => ({ x: day.atMs / DAY_MS, y: day.humidityPct })));
  if (trend === null || trend.slopeSpan.high >= 0) return null;
  const { middle, slope, slopeSpan } = trend;
  const crossing = (perDay: number) =>
    Math.max(nowMs, (middle.x + (bandLowPct - middle.y) / perDay) * DAY_MS);
  const atMs = crossing(slope);
  if (atMs - nowMs > AHEAD_MOST_MS) return null;
  // Below the band already at the middle of the days, the steep end is the later one.
  const ends = [crossing(slopeSpan.low), crossing(slopeSpan.high)];
  return {
    atMs,
    spanMs: { low: Math.min(...ends), high: Math.max(...ends) },
    basis: "trend",
  };
}

/**
 * When to look and damp by the calendar, where no trend tells: two to four weeks after the last
 * time. Common practice, no source.
 *
 * @param dampedMs when it was last damped, or when the box went into store, Unix ms
 */
export function dampByCalendar(dampedMs: number): DriesOn {
  const low = dampedMs + DAMP_EVERY_MS.low;
  const high = dampedMs + DAMP_EVERY_MS.high;
  return { atMs: (low + high) / 2, spanMs: { low, high }, basis: "calendar" };
}
