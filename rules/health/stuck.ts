import type { Place } from "../../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { type Calm, calmLastedMs, goOnCalm } from "./calm.js";
import type { ProbeHealth } from "./health.js";

/** After a longer silence nobody knows whether it stayed the same; our choice. */
const SEEN_GAP_MS = 30 * MINUTE_MS;
/** How often a value must have been said before it means anything. */
const SAID_LEAST = 10;
/** Calms, and days and nights, that make a habit; our choice. */
const CALMS_LEAST = 30;
const KNOWN_MS = 2 * DAY_MS;
/** A probe is given so many times its longest usual calm; our choice. */
const OVER_HABIT = 4;
/** The longest calm fades by this share of the time that passes, so that old ones are let go. */
const FADES = 1 / 50;

/**
 * Least patience with a probe that is known to breathe: to leave its last two values oftener than
 * each two hours, by day and by night, ms; our choice. A fridge's air does so with each turn of its
 * compressor.
 */
const BREATHES_MS = 2 * HOUR_MS;
const LEAST_MS: Readonly<Record<Place, number>> = {
  air: 3 * HOUR_MS,
  box: 6 * HOUR_MS,
  wall: 3 * HOUR_MS,
  room: 12 * HOUR_MS,
  outdoors: 12 * HOUR_MS,
};

/**
 * Patience with a probe that is not known to breathe, ms; our choice. Where a compressor runs at the
 * speed it needs, or the steps of a probe are coarse, values may stand still for days, and nothing
 * but the keeper's hand moves them, which comes to look about each two weeks. A short look does not
 * move a box by a whole degree: one such stood still for five weeks of a simulated winter.
 */
const STILL_MS = 15 * DAY_MS;
const BOX_STILL_MS = 60 * DAY_MS;

/** What sameness is made of. */
export type Sameness = Readonly<{
  sameSinceMs: number;
  flatMs: number;
  calms: number;
  knownSinceMs: number;
  calm: Calm | null;
}>;

/** Hear what the probe says, and learn from a change how long it usually stays as it is. */
export function hearSameness(
  health: ProbeHealth,
  saidC: number | null,
  saidPct: number | null,
  atMs: number,
  place: Place,
  intervalMs: number,
): Sameness {
  const { sameSinceMs, flatMs, calms, saidAtMs } = health;
  const knownSinceMs = health.knownSinceMs === 0 ? atMs : health.knownSinceMs;
  const isSeen = atMs - saidAtMs <= Math.max(SEEN_GAP_MS, 3 * intervalMs);
  if (!isSeen) return { sameSinceMs: atMs, flatMs, calms, knownSinceMs, calm: null };
  if (saidC === health.saidC && saidPct === health.saidPct)
    return { sameSinceMs, flatMs, calms, knownSinceMs, calm: health.calm };
  const calm = goOnCalm(health.calm, health, saidC, saidPct, atMs);
  if (calm.sinceMs !== atMs) return { sameSinceMs: atMs, flatMs, calms, knownSinceMs, calm };
  // One that was told teaches no more than the patience it used up.
  const patientMs = patienceMs(health, place, intervalMs);
  const lastedMs = Math.min(calmLastedMs(health.calm, atMs), patientMs);
  return {
    sameSinceMs: atMs,
    flatMs: Math.max(lastedMs, flatMs - lastedMs * FADES),
    calms: Math.min(CALMS_LEAST, calms + 1),
    knownSinceMs,
    calm,
  };
}

/** How long the probe may say the same, ms. */
function patienceMs(health: ProbeHealth, place: Place, intervalMs: number): number {
  const stillMs = place === "box" ? BOX_STILL_MS : STILL_MS;
  const leastMs = breathes(health) ? LEAST_MS[place] : stillMs;
  return Math.max(leastMs, OVER_HABIT * health.flatMs, SAID_LEAST * intervalMs);
}

/** Whether it is known never to be calm for long. */
function breathes({ flatMs, calms, knownSinceMs, saidAtMs, sameSinceMs, calm }: ProbeHealth) {
  if (calms < CALMS_LEAST || saidAtMs - knownSinceMs < KNOWN_MS) return false;
  // The present calm counts up to where it came to stand still.
  return Math.max(flatMs, calmLastedMs(calm, sameSinceMs)) <= BREATHES_MS;
}

/** Whether it has said the same for longer than it may. */
export function isStuck(health: ProbeHealth, place: Place, intervalMs: number): boolean {
  const sameMs = health.saidAtMs - health.sameSinceMs;
  // Asked first, since it is nearly always so.
  if (sameMs < LEAST_MS[place] || health.sameSinceMs === 0) return false;
  return sameMs > patienceMs(health, place, intervalMs);
}
