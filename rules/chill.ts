import type { Urgency } from "../shared/excursion.js";
import type { Span } from "../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import { type Hold, heldFor, hold } from "./hold.js";
import { followLinear } from "./lag.js";

/** How long the cocoons have been how cold. */
export type Chill = Readonly<{
  below: Hold;
  nearFrost: Hold;
  frost: Hold;
  /** The air far below its habit, or so cold that the cocoons are about to follow it below 0 °C. */
  plunge: Hold;
  /** The cocoons below the band while the thermostat turns well below where it used to. */
  sunk: Hold;
  back: Hold;
  /** The cocoons through a lag of hours, so that a swing of the thermostat does not count as drift. */
  slowC: number | null;
  /** Whether the cocoons are below the band now. */
  outside: boolean;
  lastC: number;
  lastAtMs: number;
}>;

export const NOT_CHILLED: Chill = {
  below: null,
  nearFrost: null,
  frost: null,
  plunge: null,
  sunk: null,
  back: null,
  slowC: null,
  outside: false,
  lastC: 0,
  lastAtMs: 0,
};

// All our choice: cold in the band's neighbourhood harms nobody, but a fridge that gets there is
// drifting, and the keeper must know before 0 °C.
const BELOW_K = 0.15;
const BELOW_MS = 2 * HOUR_MS;
const NEAR_FROST_C = 0.45;
const NEAR_FROST_MS = 10 * MINUTE_MS;
/** What a fridge always does, or was told of, is near frost all the same below this. */
export const FROST_SOON_C = 0.15;
const YOUNG_MS = 45 * MINUTE_MS;
/** Air that plunges is this cold, this far below its usual lowest or this far ahead of the cocoons. */
const PLUNGE_C = -0.3;
const PLUNGE_BELOW_K = 0.8;
const PLUNGE_AHEAD_K = 1.5;
/** Air is unusually low where it is so far below the thermostat's usual turns, K. */
const UNUSUAL_K = 0.3;
const PLUNGE_MS = 6 * MINUTE_MS;
const SUNK_K = 1;
const SUNK_MS = 30 * MINUTE_MS;
/** Cocoons that are still as far from 0 °C as this can wait: it may pass with the next defrost. */
const SHALLOW_C = 0.6;
const SUNK_SHALLOW_MS = 90 * MINUTE_MS;
const FROST_C = -1;
const FROST_MS = 30 * MINUTE_MS;
const SLOW_LAG_MS = 3 * HOUR_MS;

/** The air that the cocoons are in. */
export type ColdAir = Readonly<{
  nowC: number;
  /** Over the last quarter of an hour, °C. */
  meanC: number;
  usualLowC: number | null;
  /** The same over many days, which a thermostat that drifts does not soon take along. */
  steadyLowC: number | null;
  /** How far the thermostat now turns below where it has for days, K. */
  sunkC: number | null;
  /** How long the cocoons have been followed by it, ms; Infinity where they are measured. */
  followedMs: number;
}>;

export function stepChill(
  chill: Chill,
  cocoonC: number,
  air: ColdAir | null,
  band: Span,
  atMs: number,
): Chill {
  const slowC =
    chill.slowC === null
      ? cocoonC
      : followLinear(chill.slowC, chill.lastC, cocoonC, atMs - chill.lastAtMs, SLOW_LAG_MS);
  const edgeC = chill.below === null ? band.low - BELOW_K : band.low;
  const hasSunk = (air?.sunkC ?? 0) > SUNK_K;
  return {
    below: hold(chill.below, slowC < edgeC, atMs),
    nearFrost: hold(chill.nearFrost, isNearFrost(cocoonC, slowC, air, band), atMs),
    frost: hold(chill.frost, cocoonC < FROST_C, atMs),
    plunge: hold(chill.plunge, air !== null && isPlunging(air, cocoonC, band), atMs),
    sunk: hold(chill.sunk, hasSunk && cocoonC < band.low, atMs),
    // Home by a defrost's warmth alone is not home.
    back: hold(chill.back, slowC >= band.low && cocoonC >= band.low && !hasSunk, atMs),
    slowC,
    outside: cocoonC < band.low,
    lastC: cocoonC,
    lastAtMs: atMs,
  };
}

function isNearFrost(cocoonC: number, slowC: number, air: ColdAir | null, band: Span): boolean {
  if (cocoonC >= Math.min(NEAR_FROST_C, band.low)) return false;
  if (air === null) return true;
  // Begun in the thermostat's trough, an estimate is as cold as that for a while.
  if (air.followedMs < YOUNG_MS) return false;
  return !isUsualAt(air.meanC, air) || slowC < band.low || cocoonC < FROST_SOON_C;
}

/** Whether the thermostat takes the air so low, and has for days. */
function isUsualAt(airC: number, { usualLowC, steadyLowC }: ColdAir): boolean {
  if (usualLowC === null || steadyLowC === null) return false;
  return airC > Math.max(usualLowC, steadyLowC) - UNUSUAL_K;
}

function isPlunging(air: ColdAir, cocoonC: number, band: Span): boolean {
  if (air.nowC > PLUNGE_C) return false;
  if (air.usualLowC !== null && air.nowC < air.usualLowC - PLUNGE_BELOW_K) return true;
  if (isUsualAt(air.nowC, air)) return false;
  return cocoonC < band.low && air.meanC < cocoonC - PLUNGE_AHEAD_K;
}

/** Whether the air plunges: what it asks is about what is to come. */
export const plunges = ({ plunge }: Chill, atMs: number): boolean =>
  heldFor(plunge, atMs, PLUNGE_MS);

/** What the cold itself asks of the keeper; null while it asks nothing. */
export function chillUrgency(chill: Chill, atMs: number): Urgency | null {
  if (heldFor(chill.frost, atMs, FROST_MS)) return "rush";
  if (heldFor(chill.nearFrost, atMs, NEAR_FROST_MS) || plunges(chill, atMs)) return "visit";
  const sunkMs = chill.lastC < SHALLOW_C ? SUNK_MS : SUNK_SHALLOW_MS;
  if (heldFor(chill.sunk, atMs, sunkMs)) return "visit";
  // A slow mean that is still low while the cocoons are home again is the past.
  return heldFor(chill.below, atMs, BELOW_MS) && chill.outside ? "visit" : null;
}
