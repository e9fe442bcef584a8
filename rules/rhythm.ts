import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import type { PastRise } from "./acquaintance.js";

/** The beat that some of a fridge's rises keep, as those of a defrost timer do. */
export type Rhythm = Readonly<{
  /** Share of the beat's times at which a rise did begin, 0 to 1; 0 where there is no beat. */
  share: number;
  /** How much likelier the beat is than chance, as log odds. */
  odds: number;
  /** How far the present onset is from the beat's next time, min. */
  offMin: number;
  /** Onsets of the rises that kept the beat, Unix ms. */
  kept: ReadonlySet<number>;
}>;

const SHORTEST_MS = 2 * HOUR_MS;
const LONGEST_MS = 25 * HOUR_MS;
/** How near the beat's time a rise must begin to have kept it; our choice. */
const BEAT_MIN = 8;
const BEAT_MS = BEAT_MIN * MINUTE_MS;
/** Rises whose distances are tried, counted from the newest; our choice: about three days. */
const TRIED = 24;
const ONSETS_LEAST = 6;
/** Below this what looks like a beat is chance; our choice. */
const ODDS_LEAST = 5;
const OFF_MOST_MIN = 120;

const NO_RHYTHM: Rhythm = { share: 0, odds: 0, offMin: OFF_MOST_MIN, kept: new Set() };

// It costs more than all the rest of a rise, and lasts until a rise is learned.
const found = new WeakMap<readonly PastRise[], { onsetMs: number; rhythm: Rhythm }>();

/**
 * The beat that the rises before `onsetMs` keep.
 *
 * Unlike the schedule of long rises it also knows defrosts that are over within minutes. Tries the
 * distances of 2 to 25 h between any two of the last rises, follows each through all that are
 * remembered, and takes the one that chance explains worst.
 */
export function rhythmOf(rises: readonly PastRise[], onsetMs: number): Rhythm {
  const before = found.get(rises);
  if (before?.onsetMs === onsetMs) return before.rhythm;
  const rhythm = findRhythm(
    rises.map((r) => r.onsetMs).filter((t) => t < onsetMs),
    onsetMs,
  );
  found.set(rises, { onsetMs, rhythm });
  return rhythm;
}

/** Whether a rise that began at `pastMs` is one of those that the present one may be. */
export const areKin = ({ share, offMin, kept }: Rhythm, pastMs: number): boolean =>
  share === 0 || kept.has(pastMs) === offMin <= BEAT_MIN;

function findRhythm(onsets: readonly number[], nowMs: number): Rhythm {
  if (onsets.length < ONSETS_LEAST) return NO_RHYTHM;
  const spanMs = Math.max(nowMs - onsets[0]!, HOUR_MS);
  const byChance = Math.min(0.5, (onsets.length * 2 * BEAT_MS) / spanMs);
  let best = NO_RHYTHM;
  let bestFrom = -1;
  let bestPeriodMs = 0;
  for (let i = Math.max(0, onsets.length - TRIED); i < onsets.length; i++) {
    for (let j = i + 1; j < onsets.length; j++) {
      const periodMs = onsets[j]! - onsets[i]!;
      if (periodMs < SHORTEST_MS) continue;
      if (periodMs > LONGEST_MS) break;
      const beat = followBeat(onsets, i, periodMs, nowMs, null);
      const odds = oddsOf(beat.hits, beat.slots, byChance);
      if (odds <= Math.max(best.odds, ODDS_LEAST)) continue;
      const offMin = Math.min(OFF_MOST_MIN, Math.abs(nowMs - beat.nextMs) / MINUTE_MS);
      best = { share: beat.hits / beat.slots, odds, offMin, kept: best.kept };
      bestFrom = i;
      bestPeriodMs = periodMs;
    }
  }
  if (bestFrom < 0) return NO_RHYTHM;
  const kept = new Set<number>();
  followBeat(onsets, bestFrom, bestPeriodMs, nowMs, kept);
  return { ...best, kept };
}

/** The two that made the beat explain themselves; the others may be chance. */
function oddsOf(hits: number, slots: number, byChance: number): number {
  const [h, n] = [hits - 2, slots - 2];
  if (n < 2 || h < 1) return 0;
  const share = h / n;
  if (share <= byChance) return 0;
  const misses = share === 1 ? 0 : (n - h) * Math.log((1 - share) / (1 - byChance));
  return h * Math.log(share / byChance) + misses;
}

/** Follow a beat from one onset to both sides, starting anew from each rise that keeps it. */
function followBeat(
  onsets: readonly number[],
  from: number,
  periodMs: number,
  nowMs: number,
  kept: Set<number> | null,
): { hits: number; slots: number; nextMs: number } {
  kept?.add(onsets[from]!);
  const before = followTo(onsets, from, -1, periodMs, onsets[0]! - BEAT_MS, kept);
  const after = followTo(onsets, from, 1, periodMs, nowMs - BEAT_MS, kept);
  return {
    hits: 1 + before.hits + after.hits,
    slots: 1 + before.slots + after.slots,
    nextMs: after.nextMs,
  };
}

/** Follow it to the earlier or the later side, as far as `endMs`; the first onset is not counted. */
function followTo(
  onsets: readonly number[],
  from: number,
  side: -1 | 1,
  periodMs: number,
  endMs: number,
  kept: Set<number> | null,
): { hits: number; slots: number; nextMs: number } {
  const end = side < 0 ? 0 : onsets.length - 1;
  let atMs = onsets[from]! + side * periodMs;
  let [k, hits, slots] = [from, 0, 0];
  while (side < 0 ? atMs >= endMs : atMs < endMs) {
    while (k !== end && Math.abs(onsets[k + side]! - atMs) <= Math.abs(onsets[k]! - atMs))
      k += side;
    const isKept = Math.abs(onsets[k]! - atMs) <= BEAT_MS;
    if (isKept) kept?.add(onsets[k]!);
    slots++;
    if (isKept) hits++;
    atMs = (isKept ? onsets[k]! : atMs) + side * periodMs;
  }
  return { hits, slots, nextMs: atMs };
}
