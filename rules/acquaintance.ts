import { quantile } from "simple-statistics";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../shared/time.js";
import type { Rise } from "./rise.js";

/** An ordinary opening that is over. */
type Opening = Readonly<{ riseC: number; risingMs: number }>;
/** A rise that went on longer than an opening: mostly defrosts. */
type LongRise = Readonly<{ onsetMs: number; early: number }>;

/** When a rise began, and its course until it turned: the warming at each mark, K. */
type PastRise = Readonly<{ onsetMs: number; marks: readonly number[] }>;

/** What has been seen of one fridge's openings and long rises, newest last. */
export type Known = Readonly<{
  /** When this acquaintance began; 0 before the first sample. */
  sinceMs: number;
  openings: readonly Opening[];
  longRises: readonly LongRise[];
  /** Each rise worth the name, whatever it was. */
  rises: readonly PastRise[];
}>;

export const NOTHING_KNOWN: Known = { sinceMs: 0, openings: [], longRises: [], rises: [] };

// Bounds of what is remembered; our choice: a week of openings, a week of defrosts.
const OPENINGS_KEPT = 40;
const LONG_RISES_KEPT = 40;
const RISES_KEPT = 64;
const RISE_LEAST_C = 1.8;
const OPENINGS_LEAST = 6;
const LATELY_MS = 6 * DAY_MS;

/** Remember a rise that is over. */
export function learnRise(known: Known, { onsetMs, marks, peakC, baseC }: Rise): Known {
  if (peakC - baseC < RISE_LEAST_C || known.rises.at(-1)?.onsetMs === onsetMs) return known;
  const rounded = marks.map((markC) => Math.round(markC * 100) / 100);
  return { ...known, rises: [...known.rises, { onsetMs, marks: rounded }].slice(-RISES_KEPT) };
}

export function learnOpening(known: Known, rise: Rise): Known {
  const opening = { riseC: rise.peakC - rise.baseC, risingMs: rise.peakAtMs - rise.onsetMs };
  return { ...known, openings: [...known.openings, opening].slice(-OPENINGS_KEPT) };
}

export function learnLongRise(known: Known, rise: Rise): Known {
  if (known.longRises.at(-1)?.onsetMs === rise.onsetMs) return known;
  const longRise = { onsetMs: rise.onsetMs, early: rise.early };
  return { ...known, longRises: [...known.longRises, longRise].slice(-LONG_RISES_KEPT) };
}

/** How much a large but ordinary opening warms the air, K; null while few are known. */
export function largeOpeningC({ openings }: Known): number | null {
  if (openings.length < OPENINGS_LEAST) return null;
  return quantile(
    openings.map((o) => o.riseC),
    0.8,
  );
}

/** How long the air climbs in a long but ordinary opening, min; null while few are known. */
export function longOpeningMin({ openings }: Known): number | null {
  if (openings.length < OPENINGS_LEAST) return null;
  return (
    quantile(
      openings.map((o) => o.risingMs),
      0.95,
    ) / MINUTE_MS
  );
}

const RATE_OVER_MS = 30 * DAY_MS;

/**
 * How many long rises a day this fridge has, over a month at the most; one in two days is assumed
 * before any is known, so that a new fridge is neither trusted nor suspected.
 */
export function longRisesADay(known: Known, onsetMs: number): number {
  const oldestMs = known.longRises.length < LONG_RISES_KEPT ? 0 : known.longRises[0]!.onsetMs;
  const fromMs = Math.max(known.sinceMs, oldestMs, onsetMs - RATE_OVER_MS);
  const days = Math.max(0, onsetMs - fromMs) / DAY_MS;
  const count = known.longRises.filter((r) => r.onsetMs >= fromMs && r.onsetMs < onsetMs).length;
  return (count + 1) / (days + 2);
}

/** Earlier long rises of the last days. */
function lately(known: Known, onsetMs: number): readonly LongRise[] {
  return known.longRises.filter((r) => r.onsetMs < onsetMs && onsetMs - r.onsetMs < LATELY_MS);
}

/** How many long rises the last days brought, and how fast the middle one warmed, K/min. */
export function longRises(known: Known, onsetMs: number): { count: number; early: number | null } {
  const recent = lately(known, onsetMs);
  const early =
    recent.length < 4
      ? null
      : quantile(
          recent.map((r) => r.early),
          0.5,
        );
  return { count: recent.length, early };
}

const SCHEDULE_LEAST = 5;
const SCHEDULE_LOOKS_AT = 16;
const SCHEDULE_TOLERANCE_MS = 7 * MINUTE_MS;
const SCHEDULE_SHARE = 0.6;

/**
 * Whether long rises come by a clock, as those of a defrost timer do, and whether one is due now.
 *
 * Tries every distance between two of the last sixteen as the period (2 to 25 h) and takes the
 * one that explains most of them.
 */
export function scheduleAt(known: Known, onsetMs: number): "none" | "due" | "not due" {
  const onsets = known.longRises.map((r) => r.onsetMs).filter((t) => t < onsetMs);
  const looked = onsets.slice(-SCHEDULE_LOOKS_AT);
  if (looked.length < SCHEDULE_LEAST) return "none";
  const follows = (t: number, earlier: number, span: number) =>
    Math.abs(t - earlier - span) <= SCHEDULE_TOLERANCE_MS;
  let bestShare = 0;
  let periodMs = 0;
  for (const [i, first] of looked.entries()) {
    for (const second of looked.slice(i + 1)) {
      const tried = second - first;
      if (tried < 2 * HOUR_MS || tried > 25 * HOUR_MS) continue;
      const old = looked.filter((t) => t - looked[0]! >= tried - SCHEDULE_TOLERANCE_MS);
      if (old.length < 4) continue;
      const explained = old.filter((t) => looked.some((e) => follows(t, e, tried))).length;
      if (explained / old.length <= bestShare) continue;
      bestShare = explained / old.length;
      periodMs = tried;
    }
  }
  if (bestShare <= SCHEDULE_SHARE) return "none";
  const due = looked.some((e) => [1, 2, 3].some((k) => follows(onsetMs, e, k * periodMs)));
  return due ? "due" : "not due";
}

const CLOCKWORK_TOLERANCE_MS = 6 * MINUTE_MS;
const CLOCKWORK_BEATS = 4;

/**
 * Whether a rise that begins now is one of a row that keeps a clock's time: four before it, each
 * the same span (3.5 to 25 h) apart. Openings by chance hardly ever do so.
 */
export function isClockwork({ rises }: Known, onsetMs: number): boolean {
  const happened = (atMs: number) =>
    rises.some((r) => Math.abs(r.onsetMs - atMs) <= CLOCKWORK_TOLERANCE_MS);
  for (const earlier of rises) {
    const spanMs = onsetMs - earlier.onsetMs;
    if (spanMs < 3.5 * HOUR_MS || spanMs > 25 * HOUR_MS) continue;
    let beats = 1;
    while (beats < CLOCKWORK_BEATS && happened(onsetMs - (beats + 1) * spanMs)) beats++;
    if (beats === CLOCKWORK_BEATS) return true;
  }
  return false;
}

/** Whether the last long rise was so lately that a defrost cannot be due again. */
export function isTooSoon(known: Known, onsetMs: number): boolean {
  const recent = known.longRises.map((r) => r.onsetMs).filter((t) => t < onsetMs);
  const looked = recent.slice(-13);
  if (looked.length < SCHEDULE_LEAST || lately(known, onsetMs).length < 4) return false;
  const gaps = looked.slice(1).map((t, i) => t - looked[i]!);
  const whole = gaps.filter((gap) => gap > 1.5 * HOUR_MS);
  if (whole.length < 4) return false;
  return onsetMs - looked.at(-1)! < 0.75 * quantile(whole, 0.15);
}

const ALIKE_LN = 0.22;
/** Marks before this jump about with the sampling. */
const ALIKE_FROM_MARK = 1;

/**
 * How many of the remembered rises took the same course as this one so far and were still
 * climbing by now: a fridge's defrosts resemble each other, a door left open resembles nothing.
 */
export function likeRises({ rises }: Known, { onsetMs, marks }: Rise): number {
  let alike = 0;
  for (const past of rises) {
    if (past.onsetMs >= onsetMs || past.marks.length < marks.length) continue;
    let same = true;
    for (let k = ALIKE_FROM_MARK; k < marks.length && same; k++) {
      const ratio = Math.max(marks[k]!, 0.2) / Math.max(past.marks[k]!, 0.2);
      same = Math.abs(Math.log(ratio)) <= ALIKE_LN;
    }
    if (same) alike++;
  }
  return alike;
}
