import { mean, sampleStandardDeviation, sum } from "simple-statistics";

/** A value y that was found at x. */
export type Found = Readonly<{ x: number; y: number }>;

/**
 * A straight line through what was found: `atPivot + slope · (x − pivot)`.
 *
 * The pivot is the mean of x. There the two coefficients are not correlated, which keeps digits
 * and makes the uncertainty at any x a plain sum of squares (JCGM 100:2008, H.3.5).
 */
export type StraightLine = Readonly<{
  pivot: number;
  atPivot: number;
  slope: number;
  /** Standard deviations of the two coefficients. */
  atPivotSd: number;
  slopeSd: number;
  /** Standard deviation of one value about the line. */
  residualSd: number;
  degreesOfFreedom: number;
  /** The least and the greatest x. */
  low: number;
  high: number;
}>;

/**
 * The least-squares line.
 *
 * @throws {RangeError} on fewer than three values, or where all have the same x
 *
 * Source: JCGM 100:2008, H.3.2, with its t₀ at the mean of t.
 */
export function fitLine(found: readonly Found[]): StraightLine {
  const { xs, ys, pivot, atPivot } = middleOf(found);
  const sumXx = sum(xs.map((x) => (x - pivot) ** 2));
  if (sumXx === 0) throw new RangeError(`a line through values that all lie at ${pivot}`);
  const slope = sum(xs.map((x, i) => (x - pivot) * (ys[i]! - atPivot))) / sumXx;
  const residuals = xs.map((x, i) => ys[i]! - atPivot - slope * (x - pivot));
  const degreesOfFreedom = found.length - 2;
  const residualSd = Math.sqrt(sum(residuals.map((r) => r * r)) / degreesOfFreedom);
  const atPivotSd = residualSd / Math.sqrt(found.length);
  const slopeSd = residualSd / Math.sqrt(sumXx);
  const { low, high } = endsOf(xs);
  return { pivot, atPivot, slope, atPivotSd, slopeSd, residualSd, degreesOfFreedom, low, high };
}

/**
 * The level line: the mean, and its standard deviation.
 *
 * @throws {RangeError} on fewer than three values
 *
 * Source: JCGM 100:2008, 4.2.
 */
export function fitLevel(found: readonly Found[]): StraightLine {
  const { xs, ys, pivot, atPivot } = middleOf(found);
  const residualSd = sampleStandardDeviation(ys);
  return {
    pivot,
    atPivot,
    slope: 0,
    atPivotSd: residualSd / Math.sqrt(found.length),
    slopeSd: 0,
    residualSd,
    degreesOfFreedom: found.length - 1,
    ...endsOf(xs),
  };
}

/** The line's value at x, extended beyond its ends. Total. */
export function lineAt({ pivot, atPivot, slope }: StraightLine, x: number): number {
  return atPivot + slope * (x - pivot);
}

/** Standard uncertainty of the line's value at x. Total. Source: JCGM 100:2008, H.3.5. */
export function lineSdAt({ pivot, atPivotSd, slopeSd }: StraightLine, x: number): number {
  return Math.hypot(atPivotSd, slopeSd * (x - pivot));
}

function middleOf(found: readonly Found[]) {
  if (found.length < 3) throw new RangeError(`${found.length} values, expected three or more`);
  const xs = found.map(({ x }) => x);
  const ys = found.map(({ y }) => y);
  return { xs, ys, pivot: mean(xs), atPivot: mean(ys) };
}

function endsOf(xs: readonly number[]): { low: number; high: number } {
  return { low: Math.min(...xs), high: Math.max(...xs) };
}
