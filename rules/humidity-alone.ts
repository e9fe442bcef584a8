import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import { vapourPressureHpa } from "./humid-air.js";

/** What a probe said that measures humidity and no temperature. */
export type HeardHumidity = Readonly<{
  probeId: string;
  place: "air" | "box";
  atMs: number;
  humidityPct: number;
  /** How long the value stands for the present, ms. */
  freshMs: number;
}>;

/** The last humidity of such a probe. */
export type HumidityAlone = HeardHumidity &
  Readonly<{
    /** Vapour pressure at the warmth it was paired with, hPa; null where there was none. */
    hpa: number | null;
  }>;

/** A temperature of the same air. */
export type Warm = Readonly<{ atMs: number; c: number }>;

/**
 * Warmth from longer before or after tells nothing of the vapour: a compressor has gone on or off
 * in between. Our choice.
 */
const PAIRED_WITHIN_MS = 30 * MINUTE_MS;
/** Vapour in a fridge changes in an hour; our choice. */
const STANDS_MOST_MS = HOUR_MS;
/** Spoken hardly less often than the air it is put beside: its signs of a door are of the moment. */
const AS_OFTEN = 1.5;

/**
 * Take in what probes of humidity alone said. Each value is paired once with the warmth nearest in
 * time, and the vapour pressure stands from then on: paired anew with warmer air, an old humidity
 * would seem to bring vapour.
 *
 * @param alone as it was, in order of probes' ids
 * @param warms temperatures of the air, in any order
 */
export function hearHumidity(
  alone: readonly HumidityAlone[],
  heard: readonly HeardHumidity[],
  warms: readonly Warm[],
): readonly HumidityAlone[] {
  let next = alone;
  for (const value of heard) {
    const fresh = { ...value, hpa: vapourOf(value, warms) };
    const at = next.findIndex((a) => a.probeId === value.probeId);
    next = at < 0 ? [...next, fresh].sort(byProbe) : next.with(at, fresh);
  }
  return next;
}

const byProbe = (a: HumidityAlone, b: HumidityAlone): number => (a.probeId < b.probeId ? -1 : 1);

function vapourOf({ atMs, humidityPct }: HeardHumidity, warms: readonly Warm[]): number | null {
  let nearest: Warm | null = null;
  for (const warm of warms) {
    const apartMs = Math.abs(warm.atMs - atMs);
    if (apartMs > PAIRED_WITHIN_MS) continue;
    if (nearest === null || apartMs < Math.abs(nearest.atMs - atMs)) nearest = warm;
  }
  return nearest === null ? null : vapourPressureHpa(nearest.c, humidityPct);
}

/** Whether a value still stands for the present. */
export function isFresh({ atMs, freshMs }: HumidityAlone, nowMs: number): boolean {
  return nowMs - atMs <= Math.min(freshMs, STANDS_MOST_MS);
}

/** The humidity of the air by such a probe, null where none stands; of several the first by its id. */
export function airHumidity(
  alone: readonly HumidityAlone[],
  nowMs: number,
): (HumidityAlone & { hpa: number }) | null {
  for (const value of alone)
    if (value.place === "air" && value.hpa !== null && isFresh(value, nowMs))
      return value as HumidityAlone & { hpa: number };
  return null;
}

/** Whether it speaks often enough to be held against the air from one reading to the next. */
export function keepsUp(alone: HumidityAlone, airFreshMs: number): boolean {
  return alone.freshMs <= AS_OFTEN * airFreshMs;
}
