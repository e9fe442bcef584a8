import { medianSorted } from "simple-statistics";
import type { Span } from "../shared/site.js";

/** One value of a course, `x` in any unit of time. */
export type Point = Readonly<{ x: number; y: number }>;

/** A straight line through most of the points, however wild the others are. */
export type Trend = Readonly<{
  /** Change of y for each x. */
  slope: number;
  /** Where the slope lies, with the confidence asked for. */
  slopeSpan: Span;
  /** The line passes through the medians of x and of y. */
  middle: Point;
}>;

/** Standard deviations of a normal distribution that hold the middle 90 %, and 95 %, of it. */
export const Z_90 = 1.644854;
export const Z_95 = 1.959964;

/** All pairs of points are looked at, so only the last so many count; our choice. */
const POINTS_MOST = 90;
/** Fewer give no span worth having; our choice. */
const POINTS_LEAST = 4;

/**
 * Theil and Sen's trend: the median of the slopes between all pairs of points.
 *
 * @param points in any order; those with the same x make no pair with each other
 * @param z standard deviations that the span is wide to either side, as `Z_90`
 * @returns null for fewer than four points, or where all have the same x
 *
 * Source: Gilbert RO (1987), Statistical Methods for Environmental Pollution Monitoring, 16.4;
 * ties and the line's middle as in US EPA 530/R-09-007 (2009), 17.3 (Conover).
 */
export function theilSen(points: readonly Point[], z = Z_90): Trend | null {
  const used = points.slice(-POINTS_MOST);
  if (used.length < POINTS_LEAST) return null;
  const slopes: number[] = [];
  for (const [i, a] of used.entries())
    for (const b of used.slice(i + 1)) if (a.x !== b.x) slopes.push((b.y - a.y) / (b.x - a.x));
  if (slopes.length === 0) return null;
  slopes.sort(ascending);
  const reach = z * Math.sqrt(kendallVariance(used.map((p) => p.y)));
  const low = atRank(slopes, (slopes.length - reach) / 2);
  const high = atRank(slopes, (slopes.length + reach) / 2 + 1);
  return {
    slope: medianSorted(slopes),
    slopeSpan: { low, high },
    middle: { x: medianOf(used.map((p) => p.x)), y: medianOf(used.map((p) => p.y)) },
  };
}

const ascending = (a: number, b: number): number => a - b;
const medianOf = (values: number[]): number => medianSorted(values.sort(ascending));

/** Variance of Kendall's S for so many values, less for those that tie. */
function kendallVariance(values: readonly number[]): number {
  const ties = new Map<number, number>();
  for (const value of values) ties.set(value, (ties.get(value) ?? 0) + 1);
  const part = (n: number) => n * (n - 1) * (2 * n + 5);
  let sum = part(values.length);
  for (const n of ties.values()) sum -= part(n);
  return sum / 18;
}

/** The value at a rank that counts from 1 and may lie between two; held inside the list. */
function atRank(sorted: readonly number[], rank: number): number {
  const held = Math.min(sorted.length, Math.max(1, rank)) - 1;
  const below = Math.floor(held);
  const low = sorted[below]!;
  const high = sorted[Math.min(sorted.length - 1, below + 1)]!;
  return low + (high - low) * (held - below);
}
