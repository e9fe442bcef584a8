import { MINUTE_MS } from "../shared/time.js";
import type { Habit } from "./cycle.js";
import { SURE_TURNS } from "./cycle.js";
import { type Hold, hold } from "./hold.js";
import type { AirSample } from "./recent-air.js";

/** Since when the air has stood where the compressor always starts, without its coming down. */
export type Overdue = Readonly<{
  highSinceMs: Hold;
  highestC: number;
  /** How much faster than in a pause of the compressor the air came up there, K. */
  jumpC: number;
  /** The highest air in the minutes of that jump, °C. */
  jumpedToC: number;
  /** How long the spells were that were told and then soon ended by themselves, ms, newest last. */
  spellsMs: readonly number[];
}>;

export const NOT_OVERDUE: Overdue = {
  highSinceMs: null,
  highestC: 0,
  jumpC: 0,
  jumpedToC: 0,
  spellsMs: [],
};

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
/** How long before and after it came up there the air is looked at for a jump. */
const JUMP_MS = 5.5 * MINUTE_MS;
// A jump beyond this, and air that then stands, is a door in a cool room; behind a shut door a dead
// compressor's air warms on. K; our choice, above noise.
const JUMP_C = 0.4;
const STANDS_C = 0.7;
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
 * @param recent air so far, oldest first, the newest sample last
 * @param isDisturbed true while an opening is under way: its fall is a door shut, no compressor at
 * work
 */
export function stepOverdue(
  overdue: Overdue,
  recent: readonly AirSample[],
  habit: Habit | null,
  isDisturbed = false,
): Overdue {
  const sample = recent[recent.length - 1]!;
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
  const isSame = highSinceMs === overdue.highSinceMs && highestC === overdue.highestC;
  const jump = jumpOf(overdue, recent, habit, highSinceMs);
  if (isSame && jump.jumpC === overdue.jumpC && jump.jumpedToC === overdue.jumpedToC)
    return overdue;
  const { spellsMs } = overdue;
  return { spellsMs, ...jump, highSinceMs, highestC: since === null ? airC : highestC };
}

type Jump = Pick<Overdue, "jumpC" | "jumpedToC">;
const NO_JUMP: Jump = { jumpC: 0, jumpedToC: 0 };

/** How much the air has come up around the time it came to stand high, beyond a pause's share. */
function jumpOf(
  before: Overdue,
  recent: readonly AirSample[],
  habit: Habit | null,
  highSinceMs: Hold,
): Jump {
  if (highSinceMs === null || habit === null) return NO_JUMP;
  const { airC, atMs } = recent[recent.length - 1]!;
  const { jumpC, jumpedToC } = before;
  const soFar: Jump = before.highSinceMs === highSinceMs ? { jumpC, jumpedToC } : NO_JUMP;
  if (atMs - highSinceMs > JUMP_MS) return soFar;
  const fromMs = highSinceMs - JUMP_MS;
  const lowestC = recent.reduce((c, s) => (s.atMs < fromMs ? c : Math.min(c, s.airC)), airC);
  const pauseC = ((habit.topC - habit.bottomC) * (atMs - fromMs)) / Math.max(habit.riseMs, JUMP_MS);
  return {
    jumpC: Math.max(soFar.jumpC, airC - lowestC - pauseC),
    jumpedToC: Math.max(soFar.jumpedToC, airC),
  };
}

/** Whether warm air came in and stands there, as no compressor that does not start makes it. */
export const jumpedAndStands = ({ jumpC, jumpedToC }: Overdue, { airC }: AirSample): boolean =>
  jumpC > JUMP_C && airC < jumpedToC + STANDS_C;

/**
 * The waiting that was told is over by `atMs`. If it soon ended by itself, it was how this fridge
 * is at times, a long defrost say, and is waited for next time.
 */
export function endWaiting({ highSinceMs, spellsMs }: Overdue, atMs: number): Overdue {
  const spellMs = highSinceMs === null ? 0 : atMs - highSinceMs;
  const kept = spellMs > 0 && spellMs <= SPELL_MOST_MS ? [...spellsMs, spellMs] : spellsMs;
  return { ...NOT_OVERDUE, spellsMs: kept.slice(-SPELLS_KEPT) };
}

/**
 * What a fridge that keeps its air up may be doing besides: it has recovered for some hours from a
 * door left open or a dead compressor, or its long defrosts were not seen yet.
 */
export type Standing = "usual" | "recovering" | "new";

/** How long the air may stay up: longer where this fridge has done so before, and recovered. */
function patienceMs({ spellsMs }: Overdue, standing: Standing): number {
  if (standing === "recovering") return PATIENCE_RECOVERING_MS;
  if (standing === "new") return PATIENCE_MOST_MS;
  const learnedMs = Math.max(0, ...spellsMs) + SPELL_SPARE_MS;
  return Math.min(PATIENCE_MOST_MS, Math.max(PATIENCE_MS, learnedMs));
}

/**
 * Whether the compressor should have brought the air down by now and has not begun to.
 */
export function isOverdue(
  overdue: Overdue,
  sample: AirSample,
  recent: readonly AirSample[],
  habit: Habit | null,
  standing: Standing,
): boolean {
  const { highSinceMs } = overdue;
  if (highSinceMs === null || sample.atMs - highSinceMs < patienceMs(overdue, standing))
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
