// Longer than 250 lines because what begins a rise, tells it and lets it go is one decision.
import type { Cause } from "../shared/excursion.js";
import { DAY_MS, MINUTE_MS } from "../shared/time.js";
import {
  type Known,
  learnLongRise,
  learnOpening,
  learnRise,
  NOTHING_KNOWN,
} from "./acquaintance.js";
import { beginCycle, type CycleState, type Habit, stepCycle } from "./cycle.js";
import { doorLogOdds, SLOW_PROBE_MIN } from "./door-odds.js";
import { standsUnlikeAny } from "./linger.js";
import {
  endWaiting,
  isOverdue,
  jumpedAndStands,
  NOT_OVERDUE,
  type Overdue,
  type Standing,
  stepOverdue,
} from "./overdue.js";
import { type AirSample, rememberAir } from "./recent-air.js";
import {
  climbsAgain,
  EXCESS_HPA,
  followRise,
  marginC,
  noticeRise,
  type Rise,
  riseFromTrough,
  riseSince,
} from "./rise.js";

/** What is known of one chamber's air: its habit, its past, and the rise under way. */
export type AirWatch = Readonly<{
  recent: readonly AirSample[];
  cycle: CycleState;
  rise: Rise | null;
  /** The cause the present rise has been told as, if any. */
  told: AirCause | null;
  /** Since when the compressor was lost, where it was told so. */
  lostSinceMs: number;
  /** When the last cause that was told was over. */
  toldOverMs: number;
  known: Known;
  overdue: Overdue;
  /** When the last rise was let go. */
  restedMs: number;
}>;

type AirCause = Extract<Cause, "door-ajar" | "cooling-lost">;

/** Something about the air that the chamber must act on. */
export type AirNews =
  | Readonly<{ kind: "told"; cause: AirCause; sinceMs: number }>
  | Readonly<{
      kind: "over";
      cause: Extract<Cause, "opening" | "defrost"> | AirCause;
      sinceMs: number;
      untilMs: number;
    }>;

export function beginAirWatch(): AirWatch {
  return {
    recent: [],
    cycle: beginCycle(),
    rise: null,
    told: null,
    lostSinceMs: 0,
    toldOverMs: 0,
    known: NOTHING_KNOWN,
    overdue: NOT_OVERDUE,
    restedMs: 0,
  };
}

/** A rise that peaks sooner was an opening, our choice: 90 s, and the sensor's own lag. */
const OPENING_MS = 5.5 * MINUTE_MS;
/** No door is told sooner after the last quiet sample, our choice. */
const DOOR_SOONEST_MS = 2.5 * MINUTE_MS;
/** A door is told by its rise within this time; later the warmth itself must speak. */
const DOOR_LATEST_MS = 60 * MINUTE_MS;
/** A rise that climbs for longer is remembered as a long one: no opening, most likely a defrost. */
const LONG_MS = 6 * MINUTE_MS;
/** A new bend must be so much later than the onset it replaces, and so steep; our choice. */
const BEND_MS = 1.6 * MINUTE_MS;
const BEND_C_PER_MIN = 0.5;
/** A brisk probe must have said so often that the air is up. */
const DOOR_SAMPLES = 3;
/** In a fridge not yet known, turned air is asked about while so much of its warming is left. */
const LEFT_SHARE = 0.5;
/** Air so near its usual top is back, K; our choice. */
const BACK_C = 0.2;
/** A rise that has turned is let go after this, whatever the air does. */
const LET_GO_MS = 3 * 60 * MINUTE_MS;

/** Damp air that has stood for so long may be something wet that was put in; our choice. */
const DAMP_LATEST_MS = 20 * MINUTE_MS;
/** Vapour that does not go after a door was told by it says no more that it is open; our choice. */
const DAMP_MOST_MS = 12 * 60 * MINUTE_MS;

/** No dead compressor warms the air so fast; our choice. */
const STEEP_C_PER_MIN = 0.5;
/** Defrosts come each six to twelve hours, or daily (common practice, no source). */
const NEW_MS = DAY_MS;
/** How long a fridge recovers from a door or a dead compressor; our choice. */
const RECOVERING_MS = 6 * 60 * MINUTE_MS;

type Step = Readonly<{ watch: AirWatch; news: readonly AirNews[] }>;
const NO_NEWS: readonly AirNews[] = [];

/**
 * Follow one chamber's air by one sample.
 *
 * @param startsAboveC no compressor is missed below this, °C: after a cold spell its usual start is
 * not known, and a dial turned back must not look like a compressor that is lost
 */
export function stepAirWatch(
  watch: AirWatch,
  sample: AirSample,
  startsAboveC = Number.NEGATIVE_INFINITY,
): Step {
  const recent = rememberAir(watch.recent, sample);
  const isQuiet = watch.told === null && (watch.rise === null || watch.rise.damp);
  const cycle = stepCycle(watch.cycle, sample, isQuiet);
  const overdue = stepOverdue(watch.overdue, recent, cycle.habit, isOpening(watch.rise));
  const known = watch.known.sinceMs === 0 ? { ...watch.known, sinceMs: sample.atMs } : watch.known;
  // Written out: a spread would cost as much as the judging of a quiet sample.
  const { rise, told, lostSinceMs, toldOverMs, restedMs } = watch;
  const moved: AirWatch = {
    recent,
    cycle,
    rise,
    told,
    lostSinceMs,
    toldOverMs,
    restedMs,
    known,
    overdue,
  };
  const risen = stepRise(moved, sample);
  return watch.told === "cooling-lost"
    ? stepFound(risen, sample)
    : stepLost(risen, sample, startsAboveC);
}

/** Ask whether a lost compressor cools again. */
function stepFound({ watch, news }: Step, sample: AirSample): Step {
  const { habit } = watch.cycle;
  if (habit === null || sample.airC > habit.topC + BACK_C) return { watch, news };
  const { lostSinceMs: sinceMs } = watch;
  const over: AirNews = { kind: "over", cause: "cooling-lost", sinceMs, untilMs: sample.atMs };
  const overdue = endWaiting({ ...watch.overdue, highSinceMs: sinceMs }, sample.atMs);
  return {
    watch: { ...watch, ...FORGIVEN, overdue, toldOverMs: sample.atMs },
    news: [...news, over],
  };
}

const FORGIVEN = { told: null, rise: null } as const;

function stepRise(watch: AirWatch, sample: AirSample): Step {
  const { recent, cycle } = watch;
  if (watch.rise === null) {
    // What belonged to the last rise does not begin another.
    const noticed = noticeRise(recent, cycle.habit, watch.restedMs);
    if (noticed === null) return { watch, news: NO_NEWS };
    return weigh({ ...watch, rise: noticed }, noticed, sample);
  }
  const bend = watch.rise.turned ? null : noticeRise(recent, cycle.habit);
  const isWarm = bend !== null && !bend.damp;
  const followed = followRise(watch.rise, sample);
  const isPlain = isWarm && followed.damp && standsHigh(followed, sample, cycle.habit);
  const rise = isPlain ? { ...followed, damp: false } : followed;
  const next = { ...watch, rise };
  if (watch.told === null || rise.turned) {
    if (climbsAgain(watch.rise, sample)) {
      const over = rise.turned ? finish(next, rise) : { watch: next, news: NO_NEWS };
      const again = { ...riseFromTrough(watch.rise, recent), under: underOf(watch.rise, 0) };
      return { watch: { ...over.watch, rise: again }, news: over.news };
    }
    if (isWarm && !rise.turned && bendsUp(rise, bend)) {
      const bent = { ...bend, under: underOf(rise, slopeBefore(rise, bend)) };
      return { watch: { ...next, rise: bent }, news: NO_NEWS };
    }
  }
  if (!rise.turned && isStale(rise, watch.told, sample)) return finish(next, rise);
  if (!rise.turned) return weigh(next, rise, sample);
  if (settled(rise, sample, cycle)) return finish(next, rise);
  return isFarAbove(rise, sample, cycle.habit)
    ? weigh(next, rise, sample)
    : { watch: next, news: NO_NEWS };
}

/** Whether air that has turned is still where no pause of the compressor takes it. */
function isFarAbove({ baseC, peakC }: Rise, { airC }: AirSample, habit: Habit | null): boolean {
  return habit === null ? airC - baseC > LEFT_SHARE * (peakC - baseC) : isAboveHabit(airC, habit);
}

/** Whether damp air has stood for so long that it tells of no door any more. */
const isStale = (rise: Rise, told: AirCause | null, { atMs }: AirSample): boolean =>
  rise.damp && atMs - rise.onsetMs > (told === null ? DAMP_LATEST_MS : DAMP_MOST_MS);

const latestMs = ({ damp }: Rise): number => (damp ? DAMP_LATEST_MS : DOOR_LATEST_MS);

/** Whether a slow rise, a defrost say, has turned into a steep one of its own: a door in its midst. */
function bendsUp(rise: Rise, again: Rise): boolean {
  if (again.onsetMs - rise.onsetMs < BEND_MS) return false;
  return again.early > Math.max(BEND_C_PER_MIN, 2 * slopeBefore(rise, again));
}

/** How fast a rise was up to where another bends out of it, K/min. */
const slopeBefore = (rise: Rise, again: Rise): number =>
  (again.baseC - rise.baseC) / Math.max((again.onsetMs - rise.onsetMs) / MINUTE_MS, 0.1);

/** What a rise that begins in the midst of another remembers of it. */
const underOf = (rise: Rise, slope: number): Rise["under"] => ({
  onsetMs: rise.under?.onsetMs ?? rise.onsetMs,
  slope,
});

/** Ask whether a rise that goes on is a door left open. */
function weigh(before: AirWatch, rise: Rise, sample: AirSample): Step {
  const sinceMs = sample.atMs - rise.onsetMs;
  const isLong = sinceMs > LONG_MS && !rise.damp && !rise.turned;
  // A door that was told is no habit of this fridge.
  const learns = isLong && before.told === null;
  const watch = learns ? { ...before, known: learnLongRise(before.known, rise) } : before;
  const quiet = { watch, news: NO_NEWS };
  const isSlow = sinceMs / rise.samples > SLOW_PROBE_MIN * MINUTE_MS;
  if (watch.told !== null || sinceMs < DOOR_SOONEST_MS || sinceMs > latestMs(rise)) return quiet;
  if (!isSlow && rise.samples < DOOR_SAMPLES) return quiet;
  const { habit } = watch.cycle;
  if (!rise.damp && !leftHabit(rise, habit)) return quiet;
  const { known } = watch;
  if (doorLogOdds(rise, known, habit) <= 0 && !standsUnlikeAny(known, rise, habit)) return quiet;
  return tell(watch, "door-ajar", rise.onsetMs);
}

const isAboveHabit = (c: number, habit: Habit | null): boolean =>
  habit === null || c >= habit.topC + marginC(habit);

/** Whether the air is above its habit, or has gained more vapour than a pause ever brings. */
function leftHabit(rise: Rise, habit: Habit | null): boolean {
  const { baseHpa, mostHpa } = rise;
  const isDamp = baseHpa !== null && mostHpa !== null && mostHpa - baseHpa >= EXCESS_HPA;
  return isDamp || isAboveHabit(rise.peakC, habit);
}

/** Whether the air is above its habit and has not come down from its peak. */
function standsHigh(rise: Rise, { airC }: AirSample, habit: Habit | null): boolean {
  const { peakC, baseC } = rise;
  return peakC - airC <= Math.max(0.15, 0.03 * (peakC - baseC)) && isAboveHabit(peakC, habit);
}

/** Ask whether the compressor has failed to start. */
function stepLost({ watch, news }: Step, sample: AirSample, startsAboveC: number): Step {
  const { overdue, told } = watch;
  if (sample.airC < startsAboveC) return { watch, news };
  if (told !== null) return { watch, news };
  if (!isOverdue(overdue, sample, watch.recent, watch.cycle.habit, standingOf(watch, sample)))
    return { watch, news };
  const { rise } = watch;
  if (rise !== null && !rise.turned && rise.early > STEEP_C_PER_MIN) {
    // What began as steeply as a door and never turned is one, however late it is told.
    const late = tell(watch, "door-ajar", rise.onsetMs);
    return { watch: late.watch, news: [...news, ...late.news] };
  }
  const lostSinceMs = overdue.highSinceMs ?? sample.atMs;
  if (rise === null && jumpedAndStands(overdue, sample)) {
    // In a cool room a door warms the air too little for a rise, yet no pause begins with a jump.
    const left = riseSince(lostSinceMs, sample.airC - overdue.jumpC, watch.recent);
    const late = tell({ ...watch, rise: left }, "door-ajar", lostSinceMs);
    return { watch: late.watch, news: [...news, ...late.news] };
  }
  const lost = tell({ ...watch, lostSinceMs }, "cooling-lost", lostSinceMs);
  return { watch: lost.watch, news: [...news, ...lost.news] };
}

function standingOf({ toldOverMs, known }: AirWatch, { atMs }: AirSample): Standing {
  if (atMs - toldOverMs < RECOVERING_MS) return "recovering";
  return atMs - known.sinceMs < NEW_MS ? "new" : "usual";
}

function tell(watch: AirWatch, cause: AirCause, sinceMs: number): Step {
  return { watch: { ...watch, told: cause }, news: [{ kind: "told", cause, sinceMs }] };
}

/** Whether the air is back where this fridge usually keeps it. */
function settled(rise: Rise, sample: AirSample, cycle: CycleState): boolean {
  if (rise.damp) return true;
  if (sample.atMs - rise.peakAtMs > LET_GO_MS) return true;
  if (cycle.habit === null) return sample.airC <= rise.baseC + 0.35 * (rise.peakC - rise.baseC);
  return sample.airC <= Math.max(cycle.habit.topC, rise.baseC) + BACK_C;
}

const isOpening = (rise: Rise | null): boolean =>
  rise !== null && !rise.damp && rise.peakAtMs - rise.onsetMs <= OPENING_MS;

function finish(before: AirWatch, rise: Rise): Step {
  const watch = { ...before, restedMs: rise.before[rise.before.length - 1]!.atMs };
  const known = learnRise(watch.known, rise);
  const span = { sinceMs: rise.onsetMs, untilMs: rise.peakAtMs };
  if (watch.told === "door-ajar") {
    const over: AirNews = { kind: "over", cause: "door-ajar", ...span };
    const overdue = { ...watch.overdue, highSinceMs: null };
    const next = { ...watch, ...FORGIVEN, known, overdue, toldOverMs: rise.peakAtMs };
    return { watch: next, news: [over] };
  }
  if (rise.damp) {
    const over: AirNews = { kind: "over", cause: "opening", ...span };
    return { watch: { ...watch, known, rise: null }, news: [over] };
  }
  if (!isOpening(rise)) {
    const over: AirNews = { kind: "over", cause: "defrost", ...span };
    return { watch: { ...watch, known, rise: null }, news: [over] };
  }
  const over: AirNews = { kind: "over", cause: "opening", ...span };
  return { watch: { ...watch, known: learnOpening(known, rise), rise: null }, news: [over] };
}
