import { quantile } from "simple-statistics";
import { DAY_MS, MINUTE_MS } from "../shared/time.js";
import type { Rise } from "./rise.js";

/** An ordinary opening that is over. */
type Opening = Readonly<{ riseC: number; risingMs: number }>;
/** A rise that went on longer than an opening: mostly defrosts. */
type LongRise = Readonly<{ onsetMs: number; early: number }>;

/** When a rise began, and its course: warming and vapour gained at each mark until it turned, and
 * at those that followed until it was let go. */
export type PastRise = Readonly<{
  onsetMs: number;
  marks: readonly number[];
  hpaMarks: readonly number[];
  tail: readonly number[];
  hpaTail: readonly number[];
  riseC: number;
  gainedHpa: number;
}>;

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
/** Or so much vapour, where it warmed too little to be noticed by that. */
const RISE_LEAST_HPA = 1;
const OPENINGS_LEAST = 6;
const LATELY_MS = 6 * DAY_MS;

/** Remember a rise that is over. */
export function learnRise(known: Known, rise: Rise): Known {
  const { onsetMs, peakC, baseC, mostHpa, baseHpa } = rise;
  const riseC = peakC - baseC;
  const gainedHpa = mostHpa === null || baseHpa === null ? 0 : mostHpa - baseHpa;
  const isWorth = riseC >= RISE_LEAST_C || (rise.damp && gainedHpa >= RISE_LEAST_HPA);
  if (!isWorth || known.rises.at(-1)?.onsetMs === onsetMs) return known;
  const past: PastRise = {
    onsetMs,
    marks: rise.marks.map(toHundredth),
    hpaMarks: rise.hpaMarks.map(toHundredth),
    tail: rise.tail.map(toHundredth),
    hpaTail: rise.hpaTail.map(toHundredth),
    riseC: toHundredth(riseC),
    gainedHpa: toHundredth(gainedHpa),
  };
  return { ...known, rises: [...known.rises, past].slice(-RISES_KEPT) };
}

const toHundredth = (value: number): number => Math.round(value * 100) / 100;

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
export function lately(known: Known, onsetMs: number): readonly LongRise[] {
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
