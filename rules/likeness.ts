import { quantile } from "simple-statistics";
import { HOUR_MS } from "../shared/time.js";
import type { Known, PastRise } from "./acquaintance.js";
import { areKin, rhythmOf } from "./rhythm.js";
import type { Rise } from "./rise.js";
import { beginTopTwo, noteTop, type TopTwo } from "./top-two.js";

/** What the remembered rises say of the present one, all compared at the same minute. */
export type Likeness = Readonly<{
  /** How many took the same course and were still climbing by now. */
  alike: number;
  /** The same with a soft edge: by warmth alone, and by warmth and vapour. */
  near: number;
  nearBoth: number;
  /** Distance to the nearest by warmth and vapour; 4 where there is none so near. */
  far: number;
  /** How many were still climbing by now. */
  climbing: number;
  /** ln of the warming against the second largest by this minute: of all, and of those climbing. */
  beyondAll: number;
  beyondClimbing: number;
  /** Vapour for each kelvin against the usual of openings, and of long rises, hPa/K. */
  mixAgainstOpenings: number;
  mixAgainstLong: number;
  /** Vapour for each kelvin against the usual of the last few openings, hPa/K. */
  mixAgainstLately: number;
  /** Vapour for each kelvin beyond nine of ten long rises, and beyond the driest tenth of openings. */
  mixBeyondLong: number;
  mixBeyondDry: number;
  /** ln of the vapour gained against the middle of all that remembered rises gained; 0 of few. */
  lnGain: number;
  /** When the last of them began; null of none. */
  lastOnsetMs: number | null;
  /** ln of the time since the last rise so near against the usual time between those; 0 of few. */
  lnWait: number;
  /** ln of their longest usual time between against their shortest: 0 where they keep a clock. */
  lnWaitSpread: number;
  /** The same comparisons with kin only: with rises that kept the fridge's beat if the present one
   * does, with those that did not if it does not; with all where the fridge has no beat. */
  kin: Kin;
}>;

type Kin = Readonly<{
  seen: number;
  climbing: number;
  nearBoth: number;
  far: number;
  beyond: number;
}>;

// How close two courses must be; our choice: a fifth, and what noise does to both ends.
const ALIKE_LN = 0.22;
/** Marks before this jump about with the sampling. */
const ALIKE_FROM_MARK = 1;
const NEAR_SHARE = 0.1;
const NEAR_C = 0.25;
const NEAR_HPA = 0.25;
const FAR = 4;
/** A rise with more marks than this climbed for six minutes and is a long one. */
const OPENING_MARKS = 4;
/** Fewer remembered say nothing. */
const ALL_LEAST = 6;
const CLIMBING_LEAST = 3;
const MIX_LEAST = 4;
/** Vapour for each kelvin means nothing below this, K. */
const MIX_LEAST_C = 0.8;
/** The last openings of about a day. */
const MIX_LATELY = 8;
/** So large a share is as good as all of them. */
const MOST_SHARE = 0.9;
/** Less vapour than this is as good as none, hPa. */
const GAIN_SPARE_HPA = 0.3;
/** How near a rise must be to be taken for one of the same kind, and how many make a usual wait. */
const SAME_KIND = 0.3;
const WAITS_LEAST = 4;
/** Shorter waits are one disturbance; ms. */
const WAIT_LEAST_MS = 1.5 * HOUR_MS;

// A rise keeps its marks until it reaches the next, so what they are like is asked once for each.
const remembered = new WeakMap<readonly number[], Likeness>();

/** Compare a rise with those that began before it, up to its last mark. */
export function likenessOf(known: Known, rise: Rise): Likeness {
  let likeness = remembered.get(rise.marks);
  if (likeness === undefined) {
    likeness = compare(known.rises, rise);
    remembered.set(rise.marks, likeness);
  }
  return likeness;
}

function compare(rises: readonly PastRise[], rise: Rise): Likeness {
  const { onsetMs, marks, hpaMarks } = rise;
  const last = marks.length - 1;
  const rhythm = rhythmOf(rises, onsetMs);
  const all = beginTopTwo();
  const climbers = beginTopTwo();
  const kinClimbers = beginTopTwo();
  const mixes: { opening: number[]; long: number[] } = { opening: [], long: [] };
  const onsetsAlike: number[] = [];
  let alike = 0;
  let near = 0;
  let nearBoth = 0;
  let nearest = FAR * FAR;
  let kinSeen = 0;
  let kinNearBoth = 0;
  let kinNearest = FAR * FAR;
  const gains: number[] = [];
  let lastOnsetMs: number | null = null;
  for (const past of rises) {
    if (past.onsetMs >= onsetMs) continue;
    lastOnsetMs = past.onsetMs;
    if (past.hpaMarks.length > 0) gains.push(past.gainedHpa);
    const isKin = areKin(rhythm, past.onsetMs);
    if (isKin) kinSeen++;
    noteMix(mixes, past, last);
    const wasC = past.marks[last];
    noteTop(all, wasC ?? past.riseC);
    if (wasC === undefined) continue;
    noteTop(climbers, wasC);
    if (isKin) noteTop(kinClimbers, wasC);
    if (isAlike(marks, past.marks)) alike++;
    const apart = distance(marks, past.marks, NEAR_C);
    if (apart > nearest && apart > kinNearest && apart > FAR * FAR) continue;
    const both = apart + distance(hpaMarks, past.hpaMarks, NEAR_HPA);
    near += Math.exp(-0.5 * apart);
    const nearness = Math.exp(-0.5 * both);
    nearBoth += nearness;
    nearest = Math.min(nearest, both);
    if (nearness > SAME_KIND) onsetsAlike.push(past.onsetMs);
    if (!isKin) continue;
    kinNearBoth += nearness;
    kinNearest = Math.min(kinNearest, both);
  }
  const byNowC = marks[last] ?? rise.peakC - rise.baseC;
  const mix = (hpaMarks[last] ?? 0) / Math.max(byNowC, MIX_LEAST_C);
  const isHumid = hpaMarks.length > 0;
  return {
    alike,
    near,
    nearBoth,
    far: Math.sqrt(nearest),
    climbing: climbers.count,
    beyondAll: all.count < ALL_LEAST ? 0 : lnAgainst(byNowC, all),
    beyondClimbing: climbers.count < CLIMBING_LEAST ? 0 : lnAgainst(byNowC, climbers),
    mixAgainstOpenings: isHumid ? againstMiddle(mix, mixes.opening) : 0,
    mixAgainstLong: isHumid ? againstMiddle(mix, mixes.long) : 0,
    mixAgainstLately: isHumid ? againstMiddle(mix, mixes.opening.slice(-MIX_LATELY)) : 0,
    mixBeyondLong: isHumid ? againstShare(mix, mixes.long, MOST_SHARE) : 0,
    mixBeyondDry: isHumid ? againstShare(mix, mixes.opening, 1 - MOST_SHARE) : 0,
    lnGain: isHumid ? lnGainOf(hpaMarks[last] ?? 0, gains) : 0,
    lastOnsetMs,
    ...waitOf(onsetsAlike, onsetMs),
    kin: {
      seen: kinSeen,
      climbing: kinClimbers.count,
      nearBoth: kinNearBoth,
      far: Math.sqrt(kinNearest),
      beyond: kinClimbers.count < CLIMBING_LEAST ? 0 : lnAgainst(byNowC, kinClimbers),
    },
  };
}

/** How the time since the last rise of one kind compares with the time that usually lies between. */
function waitOf(
  onsets: readonly number[],
  nowMs: number,
): Pick<Likeness, "lnWait" | "lnWaitSpread"> {
  const waits: number[] = [];
  for (let k = 1; k < onsets.length; k++) {
    const waitMs = onsets[k]! - onsets[k - 1]!;
    if (waitMs > WAIT_LEAST_MS) waits.push(waitMs);
  }
  if (waits.length < WAITS_LEAST) return { lnWait: 0, lnWaitSpread: 0 };
  const since = Math.max(nowMs - onsets[onsets.length - 1]!, WAIT_LEAST_MS / 4);
  return {
    lnWait: Math.log(since / quantile(waits, 0.5)),
    lnWaitSpread: Math.log(quantile(waits, 0.8) / quantile(waits, 0.2)),
  };
}

/** Whether two courses of warming are the same within a fifth from their second mark on. */
function isAlike(marks: readonly number[], was: readonly number[]): boolean {
  for (let k = ALIKE_FROM_MARK; k < marks.length; k++) {
    const ratio = Math.max(marks[k]!, 0.2) / Math.max(was[k]!, 0.2);
    if (Math.abs(Math.log(ratio)) > ALIKE_LN) return false;
  }
  return true;
}

/** Mean square distance of two courses, in units of what counts as near. */
function distance(course: readonly number[], was: readonly number[], nearAtZero: number): number {
  let sum = 0;
  for (let k = 0; k < course.length; k++) {
    const earlier = was[k];
    if (earlier === undefined) break;
    const now = course[k]!;
    const spread = nearAtZero + NEAR_SHARE * (Math.abs(now) + Math.abs(earlier));
    sum += ((now - earlier) / spread) ** 2;
  }
  return course.length === 0 ? 0 : sum / course.length;
}

/** ln against the second largest. */
function lnAgainst(warmedC: number, { second }: TopTwo): number {
  return second <= 0 ? 0 : Math.log(Math.max(warmedC, 0.3) / second);
}

function noteMix(
  mixes: { opening: number[]; long: number[] },
  { marks, hpaMarks }: PastRise,
  last: number,
): void {
  const hpa = hpaMarks[Math.min(Math.max(last, 0), hpaMarks.length - 1)];
  const warmedC = marks[Math.min(Math.max(last, 0), marks.length - 1)];
  if (hpa === undefined || warmedC === undefined || warmedC <= MIX_LEAST_C) return;
  (marks.length > OPENING_MARKS ? mixes.long : mixes.opening).push(hpa / warmedC);
}

const againstShare = (mix: number, mixes: number[], share: number): number =>
  mixes.length < MIX_LEAST ? 0 : mix - quantile(mixes, share);

const againstMiddle = (mix: number, mixes: number[]): number => againstShare(mix, mixes, 0.5);

function lnGainOf(gainedHpa: number, gains: number[]): number {
  if (gains.length < ALL_LEAST) return 0;
  const ofAllHpa = Math.max(quantile(gains, 0.5), 0) + GAIN_SPARE_HPA;
  return Math.log((Math.max(gainedHpa, 0) + GAIN_SPARE_HPA) / ofAllHpa);
}
