import {
  type Known,
  largeOpeningC,
  longOpeningMin,
  longRises,
  longRisesADay,
} from "./acquaintance.js";
import { rhythmOf } from "./rhythm.js";
import type { Rise } from "./rise.js";
import { type Clock, clockOf, isClockwork, isTooSoon, scheduleAt } from "./schedule.js";

/** Stands in for the longest ordinary opening while few are known, min; our choice. */
const LONG_OPENING_UNKNOWN_MIN = 3.5;
/** How near the beat counts as on it, min; our choice, as wide as the schedule's tolerance. */
const BEAT_WIDTH_MIN = 6;

/** 1 where it holds, 0 where it does not. */
export const flag = (holds: boolean): number => (holds ? 1 : 0);

/** 1 at zero, falling to 0 beyond the width. */
export const bell = (value: number, width: number): number => Math.exp(-((value / width) ** 2));

/** What is usual in this fridge, as known when a rise began: the same for all its samples. */
type Usual = Readonly<{
  onsetMs: number;
  underMs: number | null;
  largeC: number | null;
  longMin: number;
  longEarly: number | null;
  lnLong: number;
  lnLongADay: number;
  clock: Clock;
  offSchedule: number;
  onSchedule: number;
  tooSoon: number;
  under: number;
  beatUnder: number;
}>;

// It costs as much as all the rest of a reading, and lasts until something is learned.
const usuals = new WeakMap<Known, Usual>();

/** What is known of the fridge when this rise began, worked out once for all of its samples. */
export function usualOf(known: Known, { onsetMs, under }: Rise): Usual {
  const before = usuals.get(known);
  const underMs = under?.onsetMs ?? null;
  if (before !== undefined && before.onsetMs === onsetMs && before.underMs === underMs)
    return before;
  const long = longRises(known, onsetMs);
  const clock = clockOf(known, onsetMs);
  const isDue = (atMs: number) =>
    scheduleAt(clockOf(known, atMs)) === "due" || isClockwork(known, atMs);
  const usual = {
    onsetMs,
    underMs,
    largeC: largeOpeningC(known),
    longMin: longOpeningMin(known) ?? LONG_OPENING_UNKNOWN_MIN,
    longEarly: long.early,
    lnLong: Math.log(1 + long.count),
    lnLongADay: Math.log(longRisesADay(known, onsetMs)),
    clock,
    offSchedule: flag(scheduleAt(clock) === "not due"),
    onSchedule: flag(isDue(onsetMs)),
    tooSoon: flag(isTooSoon(known, onsetMs)),
    under: underMs === null ? 0 : flag(isDue(underMs)),
    beatUnder: underMs === null ? 0 : bell(rhythmOf(known.rises, underMs).offMin, BEAT_WIDTH_MIN),
  };
  usuals.set(known, usual);
  return usual;
}
