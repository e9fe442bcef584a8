import type { Span } from "../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../shared/time.js";

/** A time constant that a chamber has shown, ms, and where it may lie. */
export type LearnedConstant = Readonly<{
  lagMs: number;
  spanMs: Span;
  /** Whether it is known well enough to be used instead of what is assumed. */
  isGoodEnough: boolean;
}>;

/** A box followed from its air with many lags at once, to see which of them fits it. */
export type LagLearning = Readonly<{
  atMs: number;
  airC: number;
  /** The air since `fromMs`, °C · ms. */
  fromMs: number;
  airCMs: number;
  /** When the followers began; what they say counts only once they have settled. */
  sinceMs: number;
  /** How much time the errors below stand for, ms; at most `REMEMBERS_MS`. */
  weightMs: number;
  /** One each for every lag tried: the follower, and the mean and variance of the box less it. */
  followerC: readonly number[];
  offC: readonly number[];
  variance: readonly number[];
}>;

/** Lags that are tried, ms: 8 min to 17 h in steps of a third. */
const LAGS_MS = Array.from({ length: 17 }, (_, i) => 8 * MINUTE_MS * (4 / 3) ** i);
/** Followers step this often at most, so that learning costs next to nothing; our choice. */
const STEP_MS = 2 * MINUTE_MS;
/** A longer gap in the air begins afresh; our choice. */
const GAP_MS = 20 * MINUTE_MS;
const SETTLES_MS = 3 * HOUR_MS;
/** What is older counts less and less; our choice: a week, several turns of any habit. */
const REMEMBERS_MS = 7 * DAY_MS;
const LEARNS_LEAST_MS = 12 * HOUR_MS;
/** Errors so much larger than the best lag's may still be the true one's: no box is of one lag. */
const MISFIT_SHARE = 0.1;
/** Errors this far apart in time tell something new of the noise; our choice. */
const NEW_AFTER_MS = 30 * MINUTE_MS;
/** And so many such errors' worth of noise is doubted; some three standard errors. Our choice. */
const NOISE_SHARE = 8;
/** What a probe that shows tenths may add to any error, K²; our choice. */
const DOUBT_K2 = 0.01 ** 2;
/** No lag is known better than to this factor, however well it fits; our choice. */
const SPAN_LEAST = 1.2;
/** Widest span, high against low, that is good enough: the assumed lag's own is 4. Our choice. */
const SPAN_MOST = 2;

export function beginLagLearning(): LagLearning {
  const none = LAGS_MS.map(() => 0);
  return {
    atMs: 0,
    airC: 0,
    fromMs: 0,
    airCMs: 0,
    sinceMs: 0,
    weightMs: 0,
    followerC: none,
    offC: none,
    variance: none,
  };
}

/**
 * Take in what air and box measured at one moment. Total.
 *
 * Each lag follows the air from afar and is never set back to the box, so that noise of the box's
 * probe does not look like slowness; and only the variance of its error counts, so that a probe
 * that reads half a kelvin high misleads nobody.
 *
 * @param atMs Unix ms; a step back in time changes nothing
 */
export function stepLagLearning(
  state: LagLearning,
  atMs: number,
  airC: number,
  boxC: number,
): LagLearning {
  const spanMs = atMs - state.atMs;
  if (!(spanMs > 0)) return state;
  const { weightMs, offC, variance } = state;
  if (spanMs > GAP_MS) {
    const followerC = LAGS_MS.map(() => boxC);
    const fresh = { atMs, airC, fromMs: atMs, airCMs: 0, sinceMs: atMs };
    return { ...fresh, weightMs, followerC, offC, variance };
  }
  const { fromMs, sinceMs, followerC } = state;
  const airCMs = state.airCMs + ((state.airC + airC) / 2) * spanMs;
  if (atMs - fromMs < STEP_MS)
    return { atMs, airC, fromMs, airCMs, sinceMs, weightMs, followerC, offC, variance };
  return followStep(state, atMs, airC, boxC, airCMs);
}

/** Move all followers on to `atMs`, and weigh what they say. */
function followStep(
  state: LagLearning,
  atMs: number,
  airC: number,
  boxC: number,
  airCMs: number,
): LagLearning {
  const { sinceMs, weightMs, followerC, offC, variance } = state;
  const passedMs = atMs - state.fromMs;
  const meanC = airCMs / passedMs;
  const grownMs = Math.min(REMEMBERS_MS, weightMs + passedMs);
  // Until they have settled, what they are off by is not theirs.
  const share = atMs - sinceMs < SETTLES_MS ? 0 : passedMs / grownMs;
  const followed: number[] = [];
  const newOffC: number[] = [];
  const newVariance: number[] = [];
  // Plain loops: this is the costliest step that readings take, if not the most frequent one.
  for (let i = 0; i < LAGS_MS.length; i++) {
    const c = meanC + (followerC[i]! - meanC) * Math.exp(-passedMs / LAGS_MS[i]!);
    const byC = boxC - c - offC[i]!;
    followed.push(c);
    newOffC.push(offC[i]! + share * byC);
    newVariance.push((1 - share) * (variance[i]! + share * byC * byC));
  }
  return {
    atMs,
    airC,
    fromMs: atMs,
    airCMs: 0,
    sinceMs,
    weightMs: share === 0 ? weightMs : grownMs,
    followerC: followed,
    offC: newOffC,
    variance: newVariance,
  };
}

/**
 * The lag that fits the box best; null before half a day was followed.
 *
 * It is the lag of the place where the probe lies: on the cocoons it is theirs, among them nearer
 * to that of the box's air.
 */
export function learnedLag(state: LagLearning): LearnedConstant | null {
  if (state.weightMs < LEARNS_LEAST_MS) return null;
  const { variance } = state;
  let best = 0;
  for (const [i, v] of variance.entries()) if (v < variance[best]!) best = i;
  const noise = (NOISE_SHARE * NEW_AFTER_MS) / state.weightMs;
  const doubted = variance[best]! * (1 + Math.max(MISFIT_SHARE, noise)) + DOUBT_K2;
  const low = LAGS_MS[0]! * (4 / 3) ** edge(variance, best, -1, doubted);
  const high = LAGS_MS[0]! * (4 / 3) ** edge(variance, best, 1, doubted);
  const isInside = best > 0 && best < LAGS_MS.length - 1;
  const lagMs = LAGS_MS[0]! * (4 / 3) ** (best + (isInside ? vertex(variance, best) : 0));
  const spanMs = {
    low: Math.min(low, lagMs / SPAN_LEAST),
    high: Math.max(high, lagMs * SPAN_LEAST),
  };
  return { lagMs, spanMs, isGoodEnough: isInside && spanMs.high / spanMs.low <= SPAN_MOST };
}

/** Where, in steps of the list, errors pass what is doubted; its end where they never do. */
function edge(variance: readonly number[], best: number, step: 1 | -1, doubted: number): number {
  for (let i = best; i + step >= 0 && i + step < variance.length; i += step) {
    const here = variance[i]!;
    const there = variance[i + step]!;
    if (there > doubted) return i + (step * (doubted - here)) / (there - here);
  }
  return step < 0 ? 0 : variance.length - 1;
}

/** Lowest point of the parabola through three neighbours, from the middle one; within half a step. */
function vertex(variance: readonly number[], middle: number): number {
  const [a, b, c] = variance.slice(middle - 1, middle + 2) as [number, number, number];
  const bend = a - 2 * b + c;
  return bend <= 0 ? 0 : Math.max(-0.5, Math.min(0.5, (a - c) / (2 * bend)));
}
