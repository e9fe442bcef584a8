import type { Span } from "../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import { beginDrying, type Drying, damp, stepDrying } from "./drying.js";
import { type Hold, hold } from "./hold.js";
import { relativeHumidityPct, vapourDeficitHpa } from "./humid-air.js";
import { beginMould, type Mould, type Sensitivity, stepMould } from "./mould.js";
import { beginWetness, stepWetness, type Wetness } from "./wetness.js";

/** What the water in the air did to the cocoons of one place since it was first known there. */
export type Climate = Readonly<{
  /** The box probe that measures it; null where it is reckoned from the chamber's air. */
  probeId: string | null;
  sinceMs: number;
  /** End of the last slot it was known in. */
  atMs: number;
  /** So long after it, it no longer says how things are; and a longer gap was not seen, ms. */
  seenMs: number;
  /** Vapour pressure in the box, hPa: the air's through the vents, with a lag. */
  boxHpa: number;
  /** Humidity at the cocoons through a lag of hours, %RH, and its lowest and highest. */
  slowPct: number;
  lowestPct: number;
  highestPct: number;
  /** Time that the slow humidity was in its band, of the time that was known, ms. */
  inBandMs: number;
  knownMs: number;
  /** Time that water lay on the cocoons, ms, and since when it does without a break. */
  wetMs: number;
  wetSince: Hold;
  film: Wetness;
  mould: Mould;
  drying: Drying;
}>;

/** Means of one slot at one place. */
export type PlaceSlot = Readonly<{
  atMs: number;
  probeId: string | null;
  cocoonC: number;
  /** Vapour pressure of the air around: in the box where a probe lies in it, else in the chamber. */
  vapourHpa: number;
  /** A longer gap before it was not seen, ms. */
  seenMs: number;
}>;

/** What of the keeper's settings and deeds the water is judged with. */
export type ClimateTerms = Readonly<{
  humidityBandPct: Span;
  mouldMaterial: Sensitivity;
  timezone: string;
  dampedMs: number | null;
}>;

/**
 * Lag of the vapour in a vented box, with its paper and cocoons, behind that of the air; our choice.
 * Without it each pause of a compressor, when the plate gives off its frost, would seem to wet them.
 */
const VENT_LAG_MS = 45 * MINUTE_MS;
/** The compressor's swings are no damp: humidity is judged through this lag; our choice. */
const SLOW_LAG_MS = 6 * HOUR_MS;
/** From here on a humidity sensor in a box says "wet"; our choice, datasheets give ±2 %RH there. */
const WET_PCT = 98.5;

/** Move one place on by a slot. `before` is null for a place that was not known yet. */
export function stepClimate(before: Climate | null, slot: PlaceSlot, terms: ClimateTerms): Climate {
  const { atMs, probeId, cocoonC, seenMs: longestMs } = slot;
  const last = before ?? beginClimate(slot);
  const spanMs = atMs - last.atMs;
  const isSeen = spanMs > 0 && spanMs <= longestMs;
  const boxHpa =
    probeId === null && isSeen
      ? follow(last.boxHpa, slot.vapourHpa, spanMs, VENT_LAG_MS, last)
      : slot.vapourHpa;
  const pct = relativeHumidityPct(boxHpa, cocoonC);
  const slowPct = isSeen
    ? follow(last.slowPct, pct, spanMs, SLOW_LAG_MS, last)
    : before === null
      ? pct
      : last.slowPct;
  const film = stepWetness(last.film, atMs, boxHpa, cocoonC, longestMs);
  const isWet = probeId === null ? film.filmGPerM2 > 0 : pct >= WET_PCT;
  const seenMs = isSeen ? spanMs : 0;
  const { low, high } = terms.humidityBandPct;
  const dried = dampedBy(last.drying, terms.dampedMs);
  const isYoung = last.knownMs < SLOW_LAG_MS;
  return {
    probeId,
    sinceMs: last.sinceMs,
    atMs,
    seenMs: longestMs,
    boxHpa,
    slowPct,
    // The first hours are one swing of the thermostat, and no extreme of the winter.
    lowestPct: isYoung ? slowPct : Math.min(last.lowestPct, slowPct),
    highestPct: isYoung ? slowPct : Math.max(last.highestPct, slowPct),
    inBandMs: last.inBandMs + (slowPct >= low && slowPct <= high ? seenMs : 0),
    knownMs: last.knownMs + seenMs,
    wetMs: probeId === null ? film.wetMs : last.wetMs + (isWet ? seenMs : 0),
    wetSince: hold(isSeen ? last.wetSince : null, isWet, atMs),
    film,
    mould: stepMould(last.mould, atMs, cocoonC, Math.max(0, pct), terms.mouldMaterial, longestMs),
    drying: stepDrying(
      dried,
      atMs,
      Math.min(100, pct),
      vapourDeficitHpa(boxHpa, cocoonC),
      terms.timezone,
      longestMs,
    ),
  };
}

function beginClimate({ atMs, probeId, cocoonC, vapourHpa, seenMs }: PlaceSlot): Climate {
  const pct = relativeHumidityPct(vapourHpa, cocoonC);
  return {
    probeId,
    sinceMs: atMs,
    atMs,
    seenMs,
    boxHpa: vapourHpa,
    slowPct: pct,
    lowestPct: pct,
    highestPct: pct,
    inBandMs: 0,
    knownMs: 0,
    wetMs: 0,
    wetSince: null,
    film: beginWetness(),
    mould: beginMould(atMs),
    drying: beginDrying(),
  };
}

/** A lagged value after a step; a young one is the mean so far, until the lag has passed once. */
function follow(
  from: number,
  to: number,
  spanMs: number,
  lagMs: number,
  since: Pick<Climate, "sinceMs" | "atMs">,
): number {
  const youngMs = Math.min(lagMs, Math.max(since.atMs - since.sinceMs, spanMs));
  return to + (from - to) * Math.exp(-spanMs / youngMs);
}

/** Let the last damping count; the one that counted before may have been taken back since. */
function dampedBy(drying: Drying, dampedMs: number | null): Drying {
  if (dampedMs === drying.dampedMs) return drying;
  const isBack = drying.dampedMs !== null && (dampedMs === null || dampedMs < drying.dampedMs);
  return isBack ? { ...drying, dampedMs } : damp(drying, dampedMs!);
}
