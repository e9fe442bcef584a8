import { MINUTE_MS } from "../shared/time.js";
import {
  isClockwork,
  isTooSoon,
  type Known,
  largeOpeningC,
  likeRises,
  longOpeningMin,
  longRises,
  longRisesADay,
  scheduleAt,
} from "./acquaintance.js";
import type { Habit } from "./cycle.js";
import { BRISK_DRY, BRISK_HUMID, SLOW_DRY, SLOW_HUMID } from "./door-weights.js";
import { mixing, type Rise, vapourLost } from "./rise.js";

/** What speaks for or against a door left open while the air still climbs or stays up. */
export type DoorSigns = Readonly<{
  one: 1;
  /** ln of the early warming, K/min: a heater is slower than a room. */
  lnEarly: number;
  /** ln of early against fastest warming: an opening is quick and then over. */
  lnEvenness: number;
  /** Present slope as a share of the early one. */
  slopeShare: number;
  lnRise: number;
  /** ln of the warming against that of this fridge's large openings, beyond and within it. */
  beyondOpenings: number;
  withinOpenings: number;
  /** ln of one more than the long rises of the last days: how often this fridge defrosts visibly. */
  lnLong: number;
  /** ln of long rises a day over the last month: in a fridge that has none, one is a door. */
  lnLongADay: number;
  /** 1 where it warms just as fast as this fridge's long rises, falling to 0. */
  likeDefrost: number;
  /** ln of one more than the remembered rises that took the same course. */
  lnAlike: number;
  /** How far it has come down from its peak, K. */
  fallenC: number;
  /** Minutes past the longest ordinary opening. */
  late: number;
  /** Warming beyond what a defrost can do, K. */
  beyondDefrostC: number;
  aboveTopC: number;
  offSchedule: number;
  onSchedule: number;
  tooSoon: number;
  /** 1 while this fridge's openings are not known. */
  unknown: number;
  vapourLost: number;
  vapourLostMuch: number;
  mixing: number;
  mixing2: number;
}>;

// Stand-ins for what is not known yet; our choice.
const TOP_UNKNOWN_C = 4.5;
const LONG_OPENING_UNKNOWN_MIN = 3.5;
/** Samples further apart come from a slow probe, min. */
export const SLOW_PROBE_MIN = 2.5;
/** The most that a defrost warms the air, K; our choice, from the usual 3 to 8 K. */
const DEFROST_MOST_C = 7.5;

const clamp = (value: number, low: number, high: number) => Math.min(high, Math.max(low, value));
const flag = (holds: boolean): number => (holds ? 1 : 0);

/** Gather the signs of one rise at the present sample. */
function doorSigns(rise: Rise, known: Known, habit: Habit | null): DoorSigns {
  const now = rise.before[rise.before.length - 1]!;
  const early = Math.max(rise.early, 0.05);
  const riseC = Math.max(rise.peakC - rise.baseC, 0.3);
  const largeC = largeOpeningC(known);
  const beyond = largeC === null ? 0 : Math.log(riseC / largeC);
  const long = longRises(known, rise.onsetMs);
  const likeness = long.early === null ? null : (Math.log(early) - Math.log(long.early)) / 0.25;
  const schedule = scheduleAt(known, rise.onsetMs);
  const lost = clamp(vapourLost(rise) ?? 0.25, -0.1, 1);
  const mix = clamp(mixing(rise) ?? 0.35, -0.5, 1.5);
  const minutes = (now.atMs - rise.onsetMs) / MINUTE_MS;
  return {
    one: 1,
    lnEarly: Math.log(early),
    lnEvenness: Math.log(early / Math.max(rise.steepest, 0.05)),
    slopeShare: clamp(rise.slope / early, -0.5, 1),
    lnRise: Math.log(riseC),
    beyondOpenings: Math.max(0, beyond - 0.25),
    withinOpenings: clamp(beyond, -1, 0.3),
    lnLong: Math.log(1 + long.count),
    lnLongADay: Math.log(longRisesADay(known, rise.onsetMs)),
    likeDefrost: likeness === null ? 0 : Math.exp(-(likeness ** 2)),
    lnAlike: Math.log(1 + likeRises(known, rise)),
    fallenC: rise.peakC - now.airC,
    late: minutes - (longOpeningMin(known) ?? LONG_OPENING_UNKNOWN_MIN),
    beyondDefrostC: Math.max(0, riseC - DEFROST_MOST_C),
    aboveTopC: clamp(rise.peakC - (habit?.topC ?? TOP_UNKNOWN_C), -2, 12),
    offSchedule: flag(schedule === "not due"),
    onSchedule: flag(schedule === "due" || isClockwork(known, rise.onsetMs)),
    tooSoon: flag(isTooSoon(known, rise.onsetMs)),
    unknown: flag(largeC === null),
    vapourLost: lost,
    vapourLostMuch: Math.max(0, lost - 0.25),
    mixing: mix,
    mixing2: mix * mix,
  };
}

/**
 * How much likelier a door left open is than anything harmless, as log odds; above zero it is
 * told. Sure only of a rise that has not turned.
 */
export function doorLogOdds(rise: Rise, known: Known, habit: Habit | null): number {
  const now = rise.before[rise.before.length - 1]!;
  const minutes = (now.atMs - rise.onsetMs) / MINUTE_MS;
  const isDry = rise.baseHpa === null;
  const brisk = isDry ? BRISK_DRY : BRISK_HUMID;
  const slow = isDry ? SLOW_DRY : SLOW_HUMID;
  const stages = minutes / rise.samples > SLOW_PROBE_MIN ? slow : brisk;
  const stage = stages.findLast((s) => s.fromMin <= minutes);
  if (stage === undefined) return Number.NEGATIVE_INFINITY;
  const signs = doorSigns(rise, known, habit);
  let odds = 0;
  for (const [sign, value] of Object.entries(signs))
    odds += value * (stage.weights[sign as keyof DoorSigns] ?? 0);
  return odds;
}
