import type { Span } from "../shared/site.js";
import { MINUTE_MS } from "../shared/time.js";
import { addExposure, beginExposure, type Exposure } from "./exposure.js";
import { followLinear } from "./lag.js";

/** What is known around a stretch that nobody saw. */
export type Gap = Readonly<{
  gapMs: number;
  /** Last seen before it, °C. */
  cocoonC: number;
  airC: number;
  /** The cocoons when they were seen again, °C; null while it is still dark. */
  afterC: number | null;
  /** The room: measured with its doubt, or assumed, °C. */
  roomC: Span;
  /** How fast the shut chamber warms to the room, and the cocoons to the air, time constants, ms. */
  warmingMs: Span;
  cocoonLagMs: Span;
  band: Span;
  /** Whether the compressor may have run: not while the power was known to be off. */
  mayHaveCooled: boolean;
}>;

/** Bounds on what the cocoons went through unseen. The door is taken to have been shut. */
export type Dark = Readonly<{
  /** They were never warmer or colder than this, °C. */
  warmestC: number;
  coldestC: number;
  /** Where they ended if nothing cooled them all that time, °C: slow end and fast end. */
  uncooledC: Span;
  /** The most it can have cost. */
  reserveDaysMost: number;
  degreeHoursAboveMost: number;
  degreeHoursBelowMost: number;
}>;

/** Coldest air of a household fridge whose compressor never stops, °C; our choice. */
const NEVER_STOPS_C = -8;
/** How fast such a fridge cools its air, time constant; our choice, the fast end. */
const COOLING_MS = 30 * MINUTE_MS;
/**
 * Share of the way to the room that the air goes within minutes once nothing cools it, as it comes
 * to rest with walls and load; the time constant counts from there. Our choice, as simulated
 * fridges of many kinds show 0.09 to 0.38.
 */
const AT_ONCE: Span = { low: 0.05, high: 0.4 };
/** How far off the cocoons may be when they are seen again, K: a probe's error; our choice. */
const AFTER_DOUBT_K = 0.3;
/** Steps into which a gap is cut, at most a few minutes of a day; our choice. */
const STEPS = 400;

/**
 * Bound what cocoons can have reached in a gap of known length. Total for a gap of 0 or more.
 *
 * The warm bound warms them as fast as all spans allow, from where they were last seen; and once
 * they are seen again, not beyond what could have cooled to that since. The cold bound likewise.
 * Costs are of the bounds themselves, which no true course passes while the spans hold.
 *
 * Source: Newton's law of cooling for chamber and cocoons (textbook).
 */
export function boundDark(gap: Gap): Dark {
  const { cocoonC, roomC, warmingMs, cocoonLagMs: lag, gapMs, afterC } = gap;
  const stepMs = gapMs / STEPS;
  const warmAirC = Math.max(gap.airC, cocoonC);
  const coldAirC = Math.min(gap.airC, cocoonC);
  const ceilingC = Math.max(roomC.high, warmAirC);
  const floorC = Math.min(roomC.low, coldAirC, gap.mayHaveCooled ? NEVER_STOPS_C : roomC.low);
  const coolingMs = gap.mayHaveCooled ? Math.min(COOLING_MS, warmingMs.low) : warmingMs.low;
  const risenC = warmAirC + AT_ONCE.high * (ceilingC - warmAirC);
  const warm = course(gap, risenC, ceilingC, warmingMs.low, lag.low);
  const fallenC = coldAirC + AT_ONCE.high * (floorC - coldAirC);
  const cold = course(gap, fallenC, floorC, coolingMs, lag.low);
  if (afterC !== null) {
    const growth = Math.exp(stepMs / lag.low);
    holdTo(warm, afterC + AFTER_DOUBT_K, floorC, growth, Math.min);
    holdTo(cold, afterC - AFTER_DOUBT_K, ceilingC, growth, Math.max);
  }
  const most = costOf(warm, stepMs, gap.band);
  return {
    warmestC: Math.max(...warm),
    coldestC: Math.min(...cold),
    uncooledC: uncooled(gap),
    reserveDaysMost: most.reserveDays,
    degreeHoursAboveMost: most.degreeHoursAbove,
    degreeHoursBelowMost: costOf(cold, stepMs, gap.band).degreeHoursBelow,
  };
}

/** Where the cocoons end if nothing cools them, by the slow end of all spans and by the fast. */
function uncooled(gap: Gap): Span {
  const { airC, roomC, warmingMs, cocoonLagMs } = gap;
  const warms = roomC.low + roomC.high > 2 * airC;
  const slowRoomC = warms ? roomC.low : roomC.high;
  const fastRoomC = warms ? roomC.high : roomC.low;
  const slowAirC = airC + AT_ONCE.low * (slowRoomC - airC);
  const fastAirC = airC + AT_ONCE.high * (fastRoomC - airC);
  const slow = course(gap, slowAirC, slowRoomC, warmingMs.high, cocoonLagMs.high);
  const fast = course(gap, fastAirC, fastRoomC, warmingMs.low, cocoonLagMs.low);
  const ends = [slow[STEPS]!, fast[STEPS]!];
  return { low: Math.min(...ends), high: Math.max(...ends) };
}

/** The cocoons, step by step, while the air goes from `airC` to `endC`. */
function course(gap: Gap, fromC: number, endC: number, airMs: number, lagMs: number): number[] {
  const stepMs = gap.gapMs / STEPS;
  const decay = Math.exp(-stepMs / airMs);
  let airC = fromC;
  let { cocoonC } = gap;
  const courseC = [cocoonC];
  for (let step = 1; step <= STEPS; step++) {
    const nextC = endC + (airC - endC) * decay;
    cocoonC = followLinear(cocoonC, airC, nextC, stepMs, lagMs);
    airC = nextC;
    courseC.push(cocoonC);
  }
  return courseC;
}

/**
 * Hold a bound, in place, to what can still have come to `endC` in time, backwards from there: each
 * step before, as far again from the air that drew them there. Where the cocoons came back beyond
 * the bound, through an open door say, they may have been so all along; and where not even what
 * they were before could have come to it, the bound stays as it is.
 */
function holdTo(
  bound: number[],
  endC: number,
  drawnToC: number,
  growth: number,
  nearer: (a: number, b: number) => number,
): void {
  const isBeyond = nearer(bound[STEPS]!, endC) !== endC;
  const firstC = drawnToC + (endC - drawnToC) * growth ** STEPS;
  if (!isBeyond && nearer(firstC, bound[0]!) !== bound[0]) return;
  let limitC = endC;
  for (let step = STEPS; step >= 0; step--) {
    const boundC = bound[step]!;
    if (!isBeyond) bound[step] = nearer(boundC, limitC);
    else if (nearer(boundC, endC) === boundC) bound[step] = endC;
    limitC = drawnToC + (limitC - drawnToC) * growth;
  }
}

/** What a course would cost. */
function costOf(courseC: readonly number[], stepMs: number, band: Span): Exposure {
  let sum = beginExposure(0, courseC[0]!);
  for (const [step, c] of courseC.entries())
    sum = addExposure(sum, step * stepMs, c, band, Number.POSITIVE_INFINITY);
  return sum;
}
