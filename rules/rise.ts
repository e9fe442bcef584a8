import { MINUTE_MS } from "../shared/time.js";
import { type Habit, pauseCPerMin } from "./cycle.js";
import type { AirSample } from "./recent-air.js";

/** The air warming beyond this fridge's habit: an opening, a defrost, a door ajar, a dead compressor. */
export type Rise = Readonly<{
  /** The last sample before the air left its habit; the door opened no earlier. */
  onsetMs: number;
  baseC: number;
  baseHpa: number | null;
  peakC: number;
  peakAtMs: number;
  /** Vapour pressure that belongs to the peak, hPa. */
  peakHpa: number | null;
  /** The most vapour since the onset, hPa: once a door is shut it condenses on the cold plate. */
  mostHpa: number | null;
  /** Fastest warming between two samples so far, K/min. */
  steepest: number;
  /** Warming over the last two minutes or the last two samples, K/min. */
  slope: number;
  /** Mean warming over the first `EARLY_MS`, or up to the peak where that came first, K/min. */
  early: number;
  /** Set once the air has clearly come down from its peak: what warmed it has stopped. */
  turned: boolean;
  /** Lowest air since it turned, °C. */
  troughC: number;
  troughAtMs: number;
  samples: number;
  /** The warming at each of `MARKS_MIN` reached before it turned, K. */
  marks: readonly number[];
  /** Vapour gained by each of the marks, hPa; empty where humidity is not measured. */
  hpaMarks: readonly number[];
  /** Both at the marks that followed once it had turned. */
  tail: readonly number[];
  hpaTail: readonly number[];
  /** Since when the air has stood within `LEVEL_C` of where it was then, and where that was. */
  levelSinceMs: number;
  levelC: number;
  /** The slower rise in whose midst this one began: when it began, and how fast it was, K/min. */
  under: Readonly<{ onsetMs: number; slope: number }> | null;
  /** Noticed by a jump of vapour while it warmed too little: a door in a cool room. */
  damp: boolean;
  /** The last samples, oldest first, to tell its present slope. */
  before: readonly AirSample[];
}>;

/** Usual steepness assumed of a fridge not yet known, K/min; our choice. */
export const STEEPEST_UNKNOWN = 0.4;
/** A rise must beat habit by so much to be looked at, K; our choice, above 0.1 K steps and noise. */
const EXCESS_C = 0.9;
/** Above the usual top a smaller excess is enough, K; our choice. */
const EXCESS_ABOVE_C = 0.5;
/** And a slope that pauses begin with, but end with no more; elsewhere it must be beyond that. */
const STEEP_ABOVE = 1;
const STEEP = 1.3;
/** Or the vapour must jump by so much, beyond what frost gives off in a pause, hPa; our choice. */
export const EXCESS_HPA = 1;
const FROST_HPA_PER_MIN = 0.15;
/** Share of the gained vapour that a plate takes back once a door is shut; our choice. */
const DRIED_SHARE = 0.5;
const LOOKBACK_MS = 4.2 * MINUTE_MS;
/** The first minutes tell most: after them both a door and a heater level off. */
const EARLY_MS = 4.5 * MINUTE_MS;
/** A dip that is more than noise, and a second climb that is more than a heater's; our choice. */
const DIP_C = 0.25;
const AGAIN_C = 0.6;
const AGAIN_C_PER_MIN = 0.35;
const SLOPE_MS = 1.9 * MINUTE_MS;
/** Air that moves by less stands, K; our choice, above noise and 0.1 K steps. */
const LEVEL_C = 0.3;

/** How far above its usual top the air may be before it counts as a rise, K. */
export function marginC(habit: Habit): number {
  return Math.max(0.5, 0.2 * (habit.topC - habit.bottomC));
}

/** Beyond its usual top a climb this much faster than the whole of a pause is a rise too; our choice. */
const SLOW_EXCESS_C = 0.8;
const SLOW_STEEP = 1.3;
const SLOW_LOOKBACK_MS = 12.2 * MINUTE_MS;

/**
 * Whether the newest sample leaves the fridge's habit: it warms faster than the
 * compressor's pauses ever do.
 *
 * @param recent air so far, oldest first, the newest sample last
 * @param sinceMs samples before this belong to another rise and begin none
 * @returns the rise with its onset put at the last sample before it, or null
 */
export function noticeRise(
  recent: readonly AirSample[],
  habit: Habit | null,
  sinceMs = 0,
): Rise | null {
  const { airC } = recent[recent.length - 1]!;
  const above = habit !== null && airC > habit.topC + marginC(habit);
  const steep = (above ? STEEP_ABOVE : STEEP) * Math.max(0.1, habit?.steepest ?? STEEPEST_UNKNOWN);
  // The neighbour always counts, so that a slow probe is not blind.
  const first = reachBack(recent, LOOKBACK_MS, sinceMs, 1);
  const brisk = climbFrom(recent, first, steep);
  if (brisk.by >= (above ? EXCESS_ABOVE_C : EXCESS_C)) return riseFrom(recent, brisk.onset);
  if (above) {
    const slowFirst = reachBack(recent, SLOW_LOOKBACK_MS, sinceMs);
    const slow = climbFrom(recent, slowFirst, SLOW_STEEP * pauseCPerMin(habit));
    if (slow.by > SLOW_EXCESS_C) return riseFrom(recent, slow.onset);
  }
  const damp = dampFrom(recent, first);
  return damp.by < EXCESS_HPA ? null : { ...riseFrom(recent, damp.onset), damp: true };
}

/** The index of the first sample within so long a time, and so many at least, if not before `sinceMs`. */
function reachBack(
  recent: readonly AirSample[],
  lookbackMs: number,
  sinceMs: number,
  least = 0,
): number {
  const last = recent.length - 1;
  const newestMs = recent[last]!.atMs;
  let first = last;
  while (first > 0) {
    const { atMs } = recent[first - 1]!;
    const isNear = newestMs - atMs <= lookbackMs || last - first < least;
    if (atMs < sinceMs || !isNear) break;
    first--;
  }
  return first;
}

/** From which sample on the newest has gained most beyond what is usual, and how much, K or hPa. */
type Gain = Readonly<{ onset: number; by: number }>;

/** The warming, K, beyond a usual slope, K/min. */
function climbFrom(recent: readonly AirSample[], first: number, steep: number): Gain {
  const { airC } = recent[recent.length - 1]!;
  return mostGained(recent, first, (earlier, minutes) => airC - earlier.airC - steep * minutes);
}

/** The vapour, hPa, beyond what frost gives off, where the air has not cooled. */
function dampFrom(recent: readonly AirSample[], first: number): Gain {
  const { airC, hpa } = recent[recent.length - 1]!;
  if (hpa === null) return { onset: recent.length - 1, by: NOTHING };
  return mostGained(recent, first, (earlier, minutes) =>
    earlier.hpa === null || airC < earlier.airC
      ? NOTHING
      : hpa - earlier.hpa - FROST_HPA_PER_MIN * minutes,
  );
}

const NOTHING = Number.NEGATIVE_INFINITY;

/** @param gained what the newest sample has over an earlier one that lies so many minutes back */
function mostGained(
  recent: readonly AirSample[],
  first: number,
  gained: (earlier: AirSample, minutes: number) => number,
): Gain {
  const last = recent.length - 1;
  const newestMs = recent[last]!.atMs;
  let onset = last;
  let by = NOTHING;
  for (let i = last - 1; i >= first; i--) {
    const earlier = recent[i]!;
    const gain = gained(earlier, (newestMs - earlier.atMs) / MINUTE_MS);
    if (gain <= by) continue;
    by = gain;
    onset = i;
  }
  return { onset, by };
}

/** The rise that begins at one of the samples, followed to the newest. */
function riseFrom(recent: readonly AirSample[], onset: number): Rise {
  return recent.slice(onset + 1).reduce(followRise, beginRise(recent[onset]!));
}

/** A rise that was not noticed when it began, from what is still remembered of it. */
export function riseSince(onsetMs: number, baseC: number, recent: readonly AirSample[]): Rise {
  const onset: AirSample = { atMs: onsetMs, airC: baseC, hpa: null };
  return recent.filter((s) => s.atMs > onsetMs).reduce(followRise, beginRise(onset));
}

/** The rise that begins at the lowest sample since the peak of another. */
export function riseFromTrough(rise: Rise, recent: readonly AirSample[]): Rise {
  return riseFrom(
    recent,
    recent.findIndex((s) => s.atMs >= rise.troughAtMs),
  );
}

function beginRise(onset: AirSample): Rise {
  return {
    onsetMs: onset.atMs,
    baseC: onset.airC,
    baseHpa: onset.hpa,
    peakC: onset.airC,
    peakAtMs: onset.atMs,
    peakHpa: onset.hpa,
    mostHpa: onset.hpa,
    steepest: 0,
    slope: 0,
    early: 0,
    turned: false,
    troughC: onset.airC,
    troughAtMs: onset.atMs,
    samples: 0,
    marks: [],
    hpaMarks: [],
    tail: NO_MARKS,
    hpaTail: NO_MARKS,
    levelSinceMs: onset.atMs,
    levelC: onset.airC,
    under: null,
    damp: false,
    before: [onset],
  };
}

/** Minutes after the onset at which the warming is marked, to know a rise by its course. */
const MARKS_MIN = [2, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20] as const;

const NO_MARKS: readonly number[] = [];

type Marked = Pick<Rise, "marks" | "hpaMarks" | "tail" | "hpaTail">;

/** The marks of a rise with those that lie between two samples, on the straight line there. */
function markUpTo(rise: Rise, from: AirSample, to: AirSample): Marked {
  const { turned, marks, hpaMarks, tail, hpaTail } = rise;
  let reached = turned ? tail : marks;
  let reachedHpa = turned ? hpaTail : hpaMarks;
  for (let k = marks.length + tail.length; k < MARKS_MIN.length; k++) {
    const atMs = rise.onsetMs + MARKS_MIN[k]! * MINUTE_MS;
    if (atMs > to.atMs) break;
    const part = (atMs - from.atMs) / Math.max(to.atMs - from.atMs, 1);
    reached = [...reached, from.airC + part * (to.airC - from.airC) - rise.baseC];
    if (from.hpa === null || to.hpa === null || rise.baseHpa === null) continue;
    reachedHpa = [...reachedHpa, from.hpa + part * (to.hpa - from.hpa) - rise.baseHpa];
  }
  return turned
    ? { marks, hpaMarks, tail: reached, hpaTail: reachedHpa }
    : { marks: reached, hpaMarks: reachedHpa, tail, hpaTail };
}

/** How far the air must fall from its peak before what warmed it counts as over, K. */
function turnC(rise: Rise): number {
  return Math.max(0.35, 0.12 * (rise.peakC - rise.baseC));
}

/** A step between two samples closer than this is noise. */
const STEP_MS = 0.7 * MINUTE_MS;

/** Warming from the last sample that is far enough back, K/min. */
function stepOf({ before }: Rise, { airC, atMs }: AirSample): number {
  let i = before.length - 1;
  while (i > 0 && atMs - before[i]!.atMs < STEP_MS) i--;
  const from = before[i]!;
  const minutes = (atMs - from.atMs) / MINUTE_MS;
  return minutes * MINUTE_MS < STEP_MS ? 0 : (airC - from.airC) / minutes;
}

/** Follow a rise by one sample. A second climb after a fall is a rise of its own. */
export function followRise(rise: Rise, sample: AirSample): Rise {
  const { airC, atMs, hpa } = sample;
  const previous = rise.before[rise.before.length - 1]!;
  let first = 0;
  while (first < rise.before.length - 1 && atMs - rise.before[first]!.atMs > SLOPE_MS) first++;
  const from = rise.before[first]!;
  const moved: Rise = {
    ...rise,
    ...markUpTo(rise, previous, sample),
    ...(Math.abs(airC - rise.levelC) > LEVEL_C ? { levelSinceMs: atMs, levelC: airC } : undefined),
    samples: rise.samples + 1,
    slope: ((airC - from.airC) * MINUTE_MS) / Math.max(atMs - from.atMs, 1),
    steepest: Math.max(rise.steepest, stepOf(rise, sample)),
    before: [...rise.before.slice(first), sample],
    mostHpa: hpa === null || rise.mostHpa === null ? rise.mostHpa : Math.max(rise.mostHpa, hpa),
  };
  if (rise.turned)
    return airC <= rise.troughC ? { ...moved, troughC: airC, troughAtMs: atMs } : moved;
  if (rise.damp && (vapourLost(moved) ?? 0) > DRIED_SHARE)
    return { ...moved, turned: true, troughC: airC, troughAtMs: atMs };
  if (airC < rise.peakC) {
    // A compressor at work brings the little warmth of an open door down again.
    const turned = !rise.damp && airC <= rise.peakC - turnC(rise);
    const deeper = rise.troughAtMs < rise.peakAtMs || airC <= rise.troughC;
    return deeper ? { ...moved, turned, troughC: airC, troughAtMs: atMs } : { ...moved, turned };
  }
  const sinceMs = atMs - rise.onsetMs;
  const counts = rise.early === 0 || sinceMs <= EARLY_MS;
  const early = (airC - rise.baseC) / Math.max(sinceMs / MINUTE_MS, 1);
  return {
    ...moved,
    early: counts ? early : rise.early,
    peakC: airC,
    peakAtMs: atMs,
    peakHpa: hpa,
  };
}

/**
 * Whether the air, having dipped, climbs steeply again: the door was opened a second time, and
 * the time it has been open counts from there.
 */
export function climbsAgain(rise: Rise, sample: AirSample): boolean {
  const dipped = rise.troughAtMs > rise.peakAtMs && rise.troughC <= rise.peakC - DIP_C;
  if (!dipped || rise.troughAtMs >= sample.atMs) return false;
  const minutes = (sample.atMs - rise.troughAtMs) / MINUTE_MS;
  const climbedC = sample.airC - rise.troughC;
  return climbedC > AGAIN_C && climbedC / minutes > AGAIN_C_PER_MIN;
}

/** Share of the gained vapour that is gone again, 0 to about 1; null where it could not be had. */
export function vapourLost(rise: Rise): number | null {
  const { baseHpa, mostHpa } = rise;
  const nowHpa = rise.before[rise.before.length - 1]!.hpa;
  if (baseHpa === null || mostHpa === null || nowHpa === null) return null;
  const gainedHpa = mostHpa - baseHpa;
  return gainedHpa < 0.3 ? null : (mostHpa - nowHpa) / gainedHpa;
}

/** Vapour gained for each kelvin of warming, hPa/K: room air brings its own, a heater does not. */
export function mixing(rise: Rise): number | null {
  const warmed = rise.peakC - rise.baseC;
  if (rise.baseHpa === null || rise.peakHpa === null || warmed < 0.8) return null;
  return (rise.peakHpa - rise.baseHpa) / warmed;
}
