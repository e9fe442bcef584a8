import type { Urgency } from "../shared/excursion.js";
import type { ClimateLimits, Span } from "../shared/site.js";
import { DAY_MS } from "../shared/time.js";
import type { Climate } from "./climate.js";
import { type DriesOn, driesOn } from "./dries-on.js";
import { type Hold, heldFor, hold } from "./hold.js";

/** How long the cocoons of a chamber have been how dry, and when they will be. */
export type Dryness = Readonly<{
  below: Hold;
  /** Plainly below, as a probe in a box measures it: the air of a fridge says little of the paper. */
  plainly: Hold;
  back: Hold;
  /** The date by the trend, and the last whole day that it was reckoned from. */
  trend: DriesOn | null;
  trendDayMs: number;
}>;

export const NOT_DRY: Dryness = {
  below: null,
  plainly: null,
  back: null,
  trend: null,
  trendDayMs: 0,
};

/** More than a sensor's error below the band, %RH; our choice. */
const PLAINLY_PCT = 2;
/** Lets go so far above where it catches, %RH; our choice. */
const LETS_GO_PCT = 1;
const NOTE_SHARE = 1 / 3;
/** A date nearer than this is worth a note; our choice: there is time to damp at the next visit. */
const SOON_MS = 2 * DAY_MS;

export type DryAsk = Readonly<{ urgency: Urgency; sinceMs: number; byTrend: boolean }>;

/** Follow it by a slot. `places` are those that speak for the chamber, one at least. */
export function stepDryness(
  state: Dryness,
  places: readonly Climate[],
  atMs: number,
  band: Span,
): Dryness {
  const driest = driestOf(places);
  const pct = driest.slowPct;
  const isBox = driest.probeId !== null;
  const edge = (since: Hold, pct: number) => (since === null ? pct : pct + LETS_GO_PCT);
  const dayMs = driest.drying.days.at(-1)?.atMs ?? 0;
  const trend =
    dayMs === state.trendDayMs ? state.trend : driesOn(driest.drying.days, band.low, atMs);
  return {
    below: hold(state.below, pct < edge(state.below, band.low), atMs),
    plainly: hold(state.plainly, isBox && pct < edge(state.plainly, band.low - PLAINLY_PCT), atMs),
    back: hold(state.back, pct >= band.low + LETS_GO_PCT, atMs),
    trend,
    trendDayMs: dayMs,
  };
}

export const driestOf = (places: readonly Climate[]): Climate =>
  places.reduce((a, b) => (b.slowPct < a.slowPct ? b : a));

/** What the dryness asks of the keeper; null while nothing. */
export function dryAsk(state: Dryness, atMs: number, { dryHoldMs }: ClimateLimits): DryAsk | null {
  const { below, plainly, trend } = state;
  if (heldFor(plainly, atMs, dryHoldMs))
    return { urgency: "visit", sinceMs: plainly!, byTrend: false };
  if (heldFor(below, atMs, NOTE_SHARE * dryHoldMs))
    return { urgency: "note", sinceMs: below!, byTrend: false };
  const isSoon = trend !== null && trend.atMs - atMs < SOON_MS;
  return isSoon ? { urgency: "note", sinceMs: atMs, byTrend: true } : null;
}
