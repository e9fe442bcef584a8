import type { Reading } from "../shared/reading.js";
import type { Site } from "../shared/site.js";
import { SECOND_MS } from "../shared/time.js";
import type { ChamberState } from "./chamber-state.js";
import { probeIndex } from "./probe-index.js";

/**
 * Readings of one moment are judged together, so that the order in which probes are heard
 * decides nothing. Our choice: short against the minutes in which a door must be told.
 */
export const MOMENT_MS = 20 * SECOND_MS;

const endAfter = (atMs: number): number => (Math.floor(atMs / MOMENT_MS) + 1) * MOMENT_MS;

/**
 * End of the moment in which a reading is to be judged: its own, however late it came, or the first
 * that its chamber was not judged in yet. So a night that a sensor kept back is judged as it was,
 * and not as though all of it had happened when it came; nor does a straggler take its chamber to
 * the present, with all that is still to come before it.
 *
 * @param nowMs the latest instant known of, no earlier than the reading
 */
export function momentEndOf(
  reading: Reading,
  nowMs: number,
  chambers: readonly ChamberState[],
  site: Site,
): number {
  const ownMs = endAfter(reading.takenAtMs);
  return ownMs > nowMs ? ownMs : Math.max(ownMs, endAfter(judgedMsOf(reading, chambers, site)));
}

/** End of the first moment that some readings are to be judged in. */
export function firstEndOf(
  left: readonly Reading[],
  nowMs: number,
  chambers: readonly ChamberState[],
  site: Site,
): number {
  return Math.min(...left.map((reading) => momentEndOf(reading, nowMs, chambers, site)));
}

/** What of the gathered is judged in the moment that ends at `endMs`, and what waits for its own. */
export function dueOf(
  gathered: readonly Reading[],
  endMs: number,
  chambers: readonly ChamberState[],
  site: Site,
): Readonly<{ due: readonly Reading[]; left: readonly Reading[] }> {
  if (isAllOf(gathered, endMs)) return { due: gathered, left: NOTHING };
  const isDue = (reading: Reading): boolean =>
    reading.takenAtMs < endMs && judgedMsOf(reading, chambers, site) < endMs;
  return { due: gathered.filter(isDue), left: gathered.filter((reading) => !isDue(reading)) };
}

const NOTHING: readonly Reading[] = [];

/** Whether nothing came late, as nearly always. */
function isAllOf(gathered: readonly Reading[], endMs: number): boolean {
  for (const { takenAtMs } of gathered)
    if (takenAtMs >= endMs || takenAtMs < endMs - MOMENT_MS) return false;
  return true;
}

/** Until when the cocoons that a reading is about were judged, ms; 0 before that, and outdoors. */
function judgedMsOf({ probeId }: Reading, chambers: readonly ChamberState[], site: Site): number {
  const { chamberId } = site.probes[probeIndex(site).get(probeId)!]!;
  return chambers.find((c) => c.chamberId === chamberId)?.exposure?.atMs ?? 0;
}
