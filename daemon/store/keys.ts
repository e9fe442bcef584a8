import { SANE_FROM_MS } from "../../shared/time.js";

/** Low bits of a key that hold the probe's number; the rest is time. */
const PROBES = 1_024;

/** The last probe number a key can hold; numbers begin at 1. */
export const LAST_PROBE_NO = PROBES - 1;

// Beyond it a key would no longer be an exact number.
const LAST_TIME = Math.floor(Number.MAX_SAFE_INTEGER / PROBES) - 1;

/**
 * Key of a rollup, or by way of `readingKey` of a reading: time first, so that rows taken
 * together lie together.
 *
 * @param time whole and not negative; minutes since 1970 for rollups
 * @throws {RangeError} on any other time
 */
export function rowKey(time: number, probeNo: number): number {
  if (!(Number.isInteger(time) && time >= 0 && time <= LAST_TIME))
    throw new RangeError(`time ${time} is not whole, or out of a key's range`);
  return time * PROBES + probeNo;
}

/**
 * Key of a reading. Time is counted from the first moment that a clock can honestly show:
 * the smaller number takes a byte less in every row, until 2041.
 *
 * @throws {RangeError} on a time before 2024 or after the year 2302, or not in whole ms
 */
export function readingKey(takenAtMs: number, probeNo: number): number {
  return rowKey(takenAtMs - SANE_FROM_MS, probeNo);
}

/** The least key that a row at or after `time` can have; any number will do, infinities too. */
export function firstKeyAt(time: number): number {
  return Math.min(Math.max(Math.ceil(time), 0), LAST_TIME) * PROBES;
}

/** The least key that a reading taken at or after `atMs` can have. */
export const firstReadingKeyAt = (atMs: number): number => firstKeyAt(atMs - SANE_FROM_MS);

export const timeOfKey = (key: number): number => Math.floor(key / PROBES);
export const takenAtMsOfKey = (key: number): number => timeOfKey(key) + SANE_FROM_MS;
export const probeNoOfKey = (key: number): number => key % PROBES;
