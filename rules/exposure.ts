import type { Span } from "../shared/site.js";
import { DAY_MS, HOUR_MS } from "../shared/time.js";

/** Running sums of what cocoons went through; only time that was seen counts. */
export type Exposure = Readonly<{
  /** When the sums began. */
  fromMs: number;
  atMs: number;
  cocoonC: number;
  seenMs: number;
  inBandMs: number;
  coldestC: number;
  warmestC: number;
  /** °C·h outside the band. */
  degreeHoursAbove: number;
  degreeHoursBelow: number;
  /** Equivalent days at 4 °C, with Q10 = 2.5, and with 2 and 3 beside it. */
  reserveDays: number;
  reserveDaysQ2: number;
  reserveDaysQ3: number;
  /** Sum of exp(−ΔH/RT)·ms, for the mean kinetic temperature. */
  kineticMs: number;
}>;

const ZERO_K = 273.15;
// ΔH = 83.14472 kJ/mol and R = 8.314472 J/(mol·K) make 10 000 K. USP <1160>.
const KINETIC_K = 10_000;
// Metabolic rate by Q10 = 2.5 about 4 °C: from memory, the usual range of dormant insects.
const LN_Q10_PER_K = Math.log(2.5) / 10;
const LN_Q2_PER_K = Math.log(2) / 10;
const LN_Q3_PER_K = Math.log(3) / 10;
const RESERVE_AT_C = 4;

export function beginExposure(atMs: number, cocoonC: number): Exposure {
  return {
    fromMs: atMs,
    atMs,
    cocoonC,
    seenMs: 0,
    inBandMs: 0,
    coldestC: cocoonC,
    warmestC: cocoonC,
    degreeHoursAbove: 0,
    degreeHoursBelow: 0,
    reserveDays: 0,
    reserveDaysQ2: 0,
    reserveDaysQ3: 0,
    kineticMs: 0,
  };
}

/**
 * Add the time up to `atMs`, along a straight line from the last temperature to `cocoonC`.
 *
 * @param longestMs a longer step was not seen and adds nothing
 */
export function addExposure(
  sum: Exposure,
  atMs: number,
  cocoonC: number,
  band: Span,
  longestMs: number,
): Exposure {
  const spanMs = atMs - sum.atMs;
  if (spanMs <= 0) return sum;
  const coldestC = Math.min(sum.coldestC, cocoonC);
  const warmestC = Math.max(sum.warmestC, cocoonC);
  if (spanMs > longestMs) return { ...sum, atMs, cocoonC, coldestC, warmestC };
  const hours = spanMs / HOUR_MS;
  const days = spanMs / DAY_MS;
  const above = meanAbove(sum.cocoonC - band.high, cocoonC - band.high);
  const below = meanAbove(band.low - sum.cocoonC, band.low - cocoonC);
  const outside =
    shareAbove(sum.cocoonC - band.high, cocoonC - band.high) +
    shareAbove(band.low - sum.cocoonC, band.low - cocoonC);
  return {
    fromMs: sum.fromMs,
    atMs,
    cocoonC,
    seenMs: sum.seenMs + spanMs,
    inBandMs: sum.inBandMs + spanMs * (1 - outside),
    coldestC,
    warmestC,
    degreeHoursAbove: sum.degreeHoursAbove + above * hours,
    degreeHoursBelow: sum.degreeHoursBelow + below * hours,
    reserveDays: sum.reserveDays + meanRate(LN_Q10_PER_K, sum.cocoonC, cocoonC) * days,
    reserveDaysQ2: sum.reserveDaysQ2 + meanRate(LN_Q2_PER_K, sum.cocoonC, cocoonC) * days,
    reserveDaysQ3: sum.reserveDaysQ3 + meanRate(LN_Q3_PER_K, sum.cocoonC, cocoonC) * days,
    kineticMs: sum.kineticMs + meanKinetic(sum.cocoonC, cocoonC) * spanMs,
  };
}

/** Mean of max(0, x) along a straight line from `a` to `b`. */
function meanAbove(a: number, b: number): number {
  if (a <= 0 && b <= 0) return 0;
  if (a >= 0 && b >= 0) return (a + b) / 2;
  const top = Math.max(a, b);
  return (top * top) / (2 * Math.abs(a - b));
}

/** Share of a straight line from `a` to `b` that lies above zero. */
function shareAbove(a: number, b: number): number {
  if (a <= 0 && b <= 0) return 0;
  if (a > 0 && b > 0) return 1;
  return Math.max(a, b) / Math.abs(a - b);
}

/** Mean metabolic rate against that at 4 °C, exact along a straight line. */
function meanRate(lnPerK: number, fromC: number, toC: number): number {
  const from = Math.exp(lnPerK * (fromC - RESERVE_AT_C));
  const stepped = lnPerK * (toC - fromC);
  if (Math.abs(stepped) < 1e-6) return from;
  return (from * Math.expm1(stepped)) / stepped;
}

/**
 * Trapezoid, as Tong and Lock (2015, JSM Proceedings) have it for unequal distances: along one step
 * between readings the curve is straight to a part in a thousand.
 */
function meanKinetic(fromC: number, toC: number): number {
  const from = Math.exp(-KINETIC_K / (fromC + ZERO_K));
  return fromC === toC ? from : (from + Math.exp(-KINETIC_K / (toC + ZERO_K))) / 2;
}

/** Mean kinetic temperature of the time seen, °C; null before any was. Source: USP <1160>. */
export function meanKineticC(sum: Exposure): number | null {
  if (sum.seenMs <= 0) return null;
  return KINETIC_K / -Math.log(sum.kineticMs / sum.seenMs) - ZERO_K;
}
