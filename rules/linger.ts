import { MINUTE_MS } from "../shared/time.js";
import type { Known, PastRise } from "./acquaintance.js";
import type { Habit } from "./cycle.js";
import { areKin, rhythmOf } from "./rhythm.js";
import type { Rise } from "./rise.js";
import { beginTopTwo, noteTop, type TopTwo } from "./top-two.js";

/**
 * How the warmth and vapour of a rise linger, against what the remembered rises had left at the
 * same minute: once a door is shut both go, the vapour within minutes.
 */
export type Linger = Readonly<{
  /** ln of the warming against the second most of all by this minute; 0 while few are known. */
  beyond: number;
  /** The same against its kin: those that keep the beat if it does, those that do not if not. */
  beyondKin: number;
  /** How many had about as much warmth left. */
  asWarm: number;
  /** Vapour against the second most of all by this minute, hPa; 0 where it is not measured. */
  beyondHpa: number;
}>;

/** Fewer remembered say nothing. */
const SEEN_LEAST = 6;
/** Less warmth than this is as good as none, K. */
const WARMTH_LEAST_C = 0.4;
/** So much of the present warmth counts as about as much; our choice. */
const AS_WARM_SHARE = 0.8;

// When what lingers tells of a door by itself; our choice: twice what any rise had left, and 0.7 hPa.
const STANDS_SEEN_LEAST = 12;
const STANDS_MS = 5 * MINUTE_MS;
const STANDS_LN = Math.log(2);
const STANDS_HPA = 0.7;
const STANDS_ABOVE_C = 1;

/**
 * Whether air that has turned stands where no rise before it ever stood, far above the usual top and
 * with its vapour where that is measured. It needs no weighing: of some hundred winters of six
 * simulators none had it without a door left open.
 */
export function standsUnlikeAny(known: Known, rise: Rise, habit: Habit | null): boolean {
  const now = rise.before[rise.before.length - 1]!;
  if (!rise.turned || habit === null || known.rises.length < STANDS_SEEN_LEAST) return false;
  if (now.airC < habit.topC + STANDS_ABOVE_C) return false;
  if (now.atMs - rise.levelSinceMs < STANDS_MS) return false;
  const { beyond, beyondKin, beyondHpa } = lingerOf(known, rise);
  if (beyond < STANDS_LN || beyondKin < STANDS_LN) return false;
  return rise.hpaMarks.length === 0 || beyondHpa >= STANDS_HPA;
}

// It changes with the marks alone, so it is worked out once for each.
const remembered = new WeakMap<readonly number[], Linger>();

/** Compare what a rise has left at its last mark with what those before it had left there. */
export function lingerOf(known: Known, rise: Rise): Linger {
  const key = rise.tail.length > 0 ? rise.tail : rise.marks;
  let linger = remembered.get(key);
  if (linger === undefined) {
    linger = compare(known.rises, rise);
    remembered.set(key, linger);
  }
  return linger;
}

function compare(rises: readonly PastRise[], rise: Rise): Linger {
  const { onsetMs } = rise;
  const mark = rise.marks.length + rise.tail.length - 1;
  const warmC = at(mark, rise.marks, rise.tail);
  const asWarmC = AS_WARM_SHARE * Math.max(warmC, WARMTH_LEAST_C);
  const rhythm = rhythmOf(rises, onsetMs);
  const all = beginTopTwo();
  const kin = beginTopTwo();
  const vapours = beginTopTwo();
  let asWarm = 0;
  for (const past of rises) {
    if (past.onsetMs >= onsetMs) continue;
    const wasC = at(mark, past.marks, past.tail);
    noteTop(all, wasC);
    if (areKin(rhythm, past.onsetMs)) noteTop(kin, wasC);
    noteTop(vapours, at(mark, past.hpaMarks, past.hpaTail));
    if (wasC >= asWarmC) asWarm++;
  }
  const isTold = rise.hpaMarks.length > 0 && vapours.count >= SEEN_LEAST;
  return {
    beyond: lnBeyond(warmC, all),
    beyondKin: lnBeyond(warmC, kin),
    asWarm,
    beyondHpa: isTold ? at(mark, rise.hpaMarks, rise.hpaTail) - vapours.second : 0,
  };
}

/** What was left at a mark; nothing once a rise had been let go. */
function at(mark: number, marks: readonly number[], tail: readonly number[]): number {
  return (mark < marks.length ? marks[mark] : tail[mark - marks.length]) ?? 0;
}

function lnBeyond(warmC: number, { count, second }: TopTwo): number {
  if (count < SEEN_LEAST) return 0;
  return Math.log(Math.max(warmC, WARMTH_LEAST_C) / Math.max(second, WARMTH_LEAST_C));
}
