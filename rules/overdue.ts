import { MINUTE_MS } from "../shared/time.js";
import type { Habit } from "./cycle.js";
import { SURE_TURNS } from "./cycle.js";
import { type Hold, hold } from "./hold.js";
import type { AirSample } from "./recent-air.js";

/** Since when the air has stood where the compressor always starts, without its coming down. */
export type Overdue = Readonly<{
  highSinceMs: Hold;
  highestC: number;
  /** How long the spells were that were told and then soon ended by themselves, ms, newest last. */
  spellsMs: readonly number[];
}>;

export const NOT_OVERDUE: Overdue = { highSinceMs: null, highestC: 0, spellsMs: [] };

/** Longest that openings, defrosts and their recovery keep the air up; our choice. */
const PATIENCE_MS = 42 * MINUTE_MS;
/** Never longer than this: within the hour a keeper must know. */
const PATIENCE_MOST_MS = 56 * MINUTE_MS;
/** After a door or a dead compressor the walls are warm and every pause is longer. */
const PATIENCE_RECOVERING_MS = 80 * MINUTE_MS;
/** A spell that ended by itself within this teaches patience, a longer one was a fault; our choice. */
const SPELL_MOST_MS = 70 * MINUTE_MS;
const SPELLS_KEPT = 4;
const SPELL_SPARE_MS = 5 * MINUTE_MS;
/** Air that has come down so lately is recovering. */
const FALLING_MS = 12 * MINUTE_MS;
/** A fridge that nobody knows yet is taken to start at this, °C; our choice. */
const TOP_UNKNOWN_C = 6;

/** Where the compressor always starts, °C. */
function startsAtC(habit: Habit | null): number {
  return habit === null ? TOP_UNKNOWN_C : Math.max(habit.topC, habit.usualTopC);
}

/**
 * Follow the waiting by one sample.
 *
 * @param isDisturbed true while an opening is under way: its fall is a door shut, no compressor at
 * work
 */
export function stepOverdue(
  overdue: Overdue,
  sample: AirSample,
  habit: Habit | null,
  isDisturbed = false,
): Overdue {
  const swingC = habit === null ? 1 : habit.topC - habit.bottomC;
  const topC = startsAtC(habit);
  const { airC, atMs } = sample;
  const isFresh = overdue.highSinceMs === null;
  const undisturbedC = isDisturbed ? overdue.highestC : Math.max(overdue.highestC, airC);
  const highestC = isFresh ? airC : undisturbedC;
  // A clear fall is a compressor at work: the waiting begins anew.
  const fell = !isDisturbed && highestC - airC > Math.max(0.6, 0.5 * swingC);
  // Lets go well below where it catches, so that a noisy top does not restart the clock.
  const edgeC = topC - (overdue.highSinceMs === null || fell ? 0 : 0.35 * swingC);
  const since = fell ? null : overdue.highSinceMs;
  const highSinceMs = hold(since, airC > edgeC, atMs);
  if (highSinceMs === overdue.highSinceMs && highestC === overdue.highestC) return overdue;
  return { highSinceMs, highestC: since === null ? airC : highestC, spellsMs: overdue.spellsMs };
}

/**
 * The waiting that was told is over by `atMs`. If it soon ended by itself, it was how this fridge
 * is at times, a long defrost say, and is waited for next time.
 */
export function endWaiting({ highSinceMs, spellsMs }: Overdue, atMs: number): Overdue {
  const spellMs = highSinceMs === null ? 0 : atMs - highSinceMs;
  const kept = spellMs > 0 && spellMs <= SPELL_MOST_MS ? [...spellsMs, spellMs] : spellsMs;
  return { highSinceMs: null, highestC: 0, spellsMs: kept.slice(-SPELLS_KEPT) };
}

/** How long the air may stay up: longer where this fridge has done so before, and recovered. */
function patienceMs({ spellsMs }: Overdue, recovers: boolean): number {
  if (recovers) return PATIENCE_RECOVERING_MS;
  const learnedMs = Math.max(0, ...spellsMs) + SPELL_SPARE_MS;
  return Math.min(PATIENCE_MOST_MS, Math.max(PATIENCE_MS, learnedMs));
}

/**
 * Whether the compressor should have brought the air down by now and has not begun to.
 *
 * @param recovers true for some hours after a door left open or a dead compressor
 */
export function isOverdue(
  overdue: Overdue,
  sample: AirSample,
  recent: readonly AirSample[],
  habit: Habit | null,
  recovers: boolean,
): boolean {
  const { highSinceMs } = overdue;
  if (highSinceMs === null || sample.atMs - highSinceMs < patienceMs(overdue, recovers))
    return false;
  if (habit !== null && habit.turns >= SURE_TURNS && sample.airC < startsAtC(habit) + 0.1)
    return false;
  let highestC = sample.airC;
  for (let i = recent.length - 1; i >= 0; i--) {
    const earlier = recent[i]!;
    if (sample.atMs - earlier.atMs > FALLING_MS && i < recent.length - 2) break;
    if (earlier.airC > highestC) highestC = earlier.airC;
  }
  const swingC = habit === null ? 1 : habit.topC - habit.bottomC;
  return sample.airC > highestC - Math.max(0.25, 0.12 * swingC);
}
