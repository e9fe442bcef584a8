import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import type { LearnedConstant } from "./learned-lag.js";

/** How fast a shut chamber warms to the room whenever it is not cooled, learned from such spells. */
export type WarmingLearning = Readonly<{
  spell: Spell | null;
  /** Time constants of the last spells, ms, oldest first. */
  lagsMs: readonly number[];
}>;

/** One spell without cooling; sums of a straight line through ln(room − air) against hours. */
type Spell = Readonly<{
  sinceMs: number;
  lastMs: number;
  n: number;
  x: number;
  y: number;
  xx: number;
  xy: number;
  yy: number;
}>;

export const NOTHING_LEARNED: WarmingLearning = { spell: null, lagsMs: [] };

/** The air alone warms quickly at first, until walls and load lead it; our choice. */
const SKIPS_MS = 30 * MINUTE_MS;
/** A spell must be followed for so long after that; our choice. */
const FOLLOWED_LEAST_MS = 45 * MINUTE_MS;
const STEP_MS = MINUTE_MS;
/** Nearer to the room than this, K, a probe's error outweighs the difference; our choice. */
const APART_LEAST_K = 2;
/**
 * How far beyond what was seen the truth may be, as a factor: of one spell alone, and of several,
 * which show themselves how loads and rooms differ. Our choice.
 */
const DOUBT_ALONE = 1.6;
const DOUBT_SEVERAL = 1.3;
const SPELLS_KEPT = 8;
/** Widest span, high against low, that is good enough: the assumed one's is above 5. Our choice. */
const SPAN_MOST = 4;

/**
 * Take in one reading of the air. Total.
 *
 * Newton's law of cooling makes ln(room − air) fall in a straight line, whose slope is the
 * constant (textbook). A room that swings by a few kelvin bends it somewhat.
 *
 * @param isOff whether the chamber is known not to cool, with its door shut: a lost compressor,
 *   a power cut. The end of such a spell is when it is learned from
 * @param roomC null without a probe in the room, and then nothing is learned
 */
export function stepWarming(
  state: WarmingLearning,
  atMs: number,
  airC: number,
  roomC: number | null,
  isOff: boolean,
): WarmingLearning {
  const { spell, lagsMs } = state;
  if (!isOff || roomC === null) {
    if (spell === null) return state;
    const lagMs = lagOf(spell);
    const kept = lagMs === null ? lagsMs : [...lagsMs, lagMs].slice(-SPELLS_KEPT);
    return { spell: null, lagsMs: kept };
  }
  if (spell === null) {
    const begun = { sinceMs: atMs, lastMs: atMs, n: 0, x: 0, y: 0, xx: 0, xy: 0, yy: 0 };
    return { spell: begun, lagsMs };
  }
  const apartK = roomC - airC;
  const isEarly = atMs - spell.sinceMs < SKIPS_MS || atMs - spell.lastMs < STEP_MS;
  if (isEarly || apartK < APART_LEAST_K) return state;
  const hours = (atMs - spell.sinceMs) / HOUR_MS;
  return { spell: addTo(spell, atMs, hours, Math.log(apartK)), lagsMs };
}

function addTo(spell: Spell, atMs: number, x: number, y: number): Spell {
  return {
    sinceMs: spell.sinceMs,
    lastMs: atMs,
    n: spell.n + 1,
    x: spell.x + x,
    y: spell.y + y,
    xx: spell.xx + x * x,
    xy: spell.xy + x * y,
    yy: spell.yy + y * y,
  };
}

/** The time constant of one spell, ms; null where it was too short or not a straight line. */
function lagOf({ sinceMs, lastMs, n, x, y, xx, xy, yy }: Spell): number | null {
  if (n < 10 || lastMs - sinceMs < SKIPS_MS + FOLLOWED_LEAST_MS) return null;
  const spread = xx - (x * x) / n;
  const fall = xy - (x * y) / n;
  const height = yy - (y * y) / n;
  if (spread <= 0 || fall >= 0) return null;
  const isStraight = fall * fall > STRAIGHT_LEAST * spread * height;
  return isStraight ? (-spread / fall) * HOUR_MS : null;
}

/** Share of the fall that the line must explain; our choice. */
const STRAIGHT_LEAST = 0.9;

/** What the spells so far have taught; null before the first. */
export function learnedWarming({ lagsMs }: WarmingLearning): LearnedConstant | null {
  if (lagsMs.length === 0) return null;
  const sorted = lagsMs.toSorted((a, b) => a - b);
  const doubt = sorted.length === 1 ? DOUBT_ALONE : DOUBT_SEVERAL;
  const low = sorted[0]! / doubt;
  const high = sorted[sorted.length - 1]! * doubt;
  const middle = (sorted.length - 1) / 2;
  const lagMs = (sorted[Math.floor(middle)]! + sorted[Math.ceil(middle)]!) / 2;
  return { lagMs, spanMs: { low, high }, isGoodEnough: high / low <= SPAN_MOST };
}
