import type { Cause, Urgency } from "../shared/excursion.js";
import type { ClimateLimits } from "../shared/site.js";
import { DAY_MS, HOUR_MS } from "../shared/time.js";
import type { Climate } from "./climate.js";
import { type Hold, heldFor, hold } from "./hold.js";

type DampCause = Extract<Cause, "damp" | "condensation" | "mould">;

/** Something about the water that asks for the keeper. */
export type DampAsk = Readonly<{ cause: DampCause; urgency: Urgency; sinceMs: number }>;

/** How long the cocoons of a chamber have been how damp, and what was answered of mould. */
export type Dampness = Readonly<{
  /** Slow humidity above the limit for a note, and for a visit. */
  noted: Hold;
  pressing: Hold;
  /** Since when water lies on a wall that is not freezing. */
  wallWet: Hold;
  /** Since when nothing has asked. */
  calm: Hold;
  /** The index when the keeper last looked, and when that was, Unix ms; 0 before the first. */
  lookedIndex: number;
  lookedMs: number;
}>;

export const NOT_DAMP: Dampness = {
  noted: null,
  pressing: null,
  wallWet: null,
  calm: null,
  lookedIndex: 0,
  lookedMs: 0,
};

/** Lets go so far below where it catches, %RH; less while nobody was told yet. Our choice. */
const LETS_GO_PCT = 3;
const LETS_GO_UNTOLD_PCT = 1;
/** Mould that has had no chance to grow for so long asks no more; our choice. */
const MOULD_RESTS_MS = 3 * DAY_MS;
/** After the keeper looked, mould is told again once it may have grown so much further. */
const MOULD_AGAIN = 1;
const WET_NOTE_SHARE = 0.25;
const WALL_HOLD_FACTOR = 4;

/** What the keeper did or saw that bears on it, Unix ms. */
export type DampDeeds = Readonly<{
  dampedMs: number | null;
  /** When they last looked for mould, whether they saw any or not. */
  lookedMs: number | null;
}>;

/** Whether a damping of the last days explains that it is damp, and was not the answer to it. */
function isExplained(
  { dampedMs }: DampDeeds,
  noted: Hold,
  atMs: number,
  { dampingExplainsMs }: ClimateLimits,
): boolean {
  if (dampedMs === null || atMs - dampedMs >= dampingExplainsMs) return false;
  return noted === null || dampedMs <= noted;
}

/**
 * Follow it by a slot.
 *
 * @param places those that speak for the chamber, one at least
 * @param isWallWet whether water, not frost, lies on its wall
 */
export function stepDampness(
  state: Dampness,
  places: readonly Climate[],
  isWallWet: boolean,
  atMs: number,
  limits: ClimateLimits,
  deeds: DampDeeds,
): Dampness {
  const pct = Math.max(...places.map((p) => p.slowPct));
  const isOld = places.some((p) => p.knownMs >= 6 * HOUR_MS);
  const counts = isOld && !isExplained(deeds, state.noted, atMs, limits);
  const { low, high } = limits.dampPct;
  const edge = (since: Hold, limitPct: number) => {
    const isTold = heldFor(since, atMs, limits.dampHoldMs);
    return limitPct - (isTold ? LETS_GO_PCT : since === null ? 0 : LETS_GO_UNTOLD_PCT);
  };
  const looked = deeds.lookedMs !== null && deeds.lookedMs > state.lookedMs;
  const next: Dampness = {
    noted: hold(state.noted, counts && pct >= edge(state.noted, low), atMs),
    pressing: hold(state.pressing, counts && pct >= edge(state.pressing, high), atMs),
    wallWet: hold(state.wallWet, isWallWet, atMs),
    calm: null,
    lookedIndex: looked ? worstMould(places) : state.lookedIndex,
    lookedMs: looked ? deeds.lookedMs : state.lookedMs,
  };
  const asks = dampAsk(next, places, atMs, limits) !== null || next.noted !== null;
  return { ...next, calm: hold(state.calm, !asks, atMs) };
}

export const worstMould = (places: readonly Climate[]): number =>
  Math.max(0, ...places.map((p) => p.mould.index));

/** What asks the most; null while nothing does. Of equals mould, then water, then damp. */
export function dampAsk(
  state: Dampness,
  places: readonly Climate[],
  atMs: number,
  limits: ClimateLimits,
): DampAsk | null {
  const asks = [
    mouldAsk(state, places, limits),
    wetAsk(state, places, atMs, limits),
    ofDamp(state, atMs, limits),
  ];
  return asks.find((a) => a?.urgency === "visit") ?? asks.find((a) => a !== null) ?? null;
}

function mouldAsk(
  state: Dampness,
  places: readonly Climate[],
  limits: ClimateLimits,
): DampAsk | null {
  const worst = places.reduce((a, b) => (b.mould.index > a.mould.index ? b : a));
  const { index, dryMs, atMs } = worst.mould;
  if (dryMs >= MOULD_RESTS_MS) return null;
  const again = state.lookedMs === 0 ? 0 : state.lookedIndex + MOULD_AGAIN;
  const { low, high } = limits.mouldIndex;
  if (index >= Math.max(high, again)) return { cause: "mould", urgency: "visit", sinceMs: atMs };
  return index >= Math.max(low, again) ? { cause: "mould", urgency: "note", sinceMs: atMs } : null;
}

function wetAsk(
  { wallWet }: Dampness,
  places: readonly Climate[],
  atMs: number,
  { wetHoldMs }: ClimateLimits,
): DampAsk | null {
  let since: Hold = null;
  for (const { wetSince } of places)
    if (wetSince !== null) since = Math.min(since ?? wetSince, wetSince);
  if (heldFor(since, atMs, wetHoldMs))
    return { cause: "condensation", urgency: "visit", sinceMs: since! };
  if (heldFor(since, atMs, WET_NOTE_SHARE * wetHoldMs))
    return { cause: "condensation", urgency: "note", sinceMs: since! };
  // Walls drip now and then; only one that never dries is worth a line.
  const drips = heldFor(wallWet, atMs, WALL_HOLD_FACTOR * wetHoldMs);
  return drips ? { cause: "condensation", urgency: "note", sinceMs: wallWet! } : null;
}

function ofDamp(
  { noted, pressing }: Dampness,
  atMs: number,
  { dampHoldMs }: ClimateLimits,
): DampAsk | null {
  if (heldFor(pressing, atMs, dampHoldMs))
    return { cause: "damp", urgency: "visit", sinceMs: pressing! };
  return heldFor(noted, atMs, dampHoldMs)
    ? { cause: "damp", urgency: "note", sinceMs: noted! }
    : null;
}
