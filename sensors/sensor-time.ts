import { parseRfc3339 } from "../shared/rfc3339.js";
import { SECOND_MS } from "../shared/time.js";
import { parseDecimal } from "./decimal.js";
import type { SensorTime } from "./measurement.js";

/**
 * Numbers from here on are milliseconds, below it seconds. 10^11 ms was in March 1973 and
 * 10^11 s will be in the year 5138, so no honest time is read wrongly. Our choice.
 */
const MILLISECONDS_FROM = 1e11;

/**
 * A sensor's time from a JSON value: RFC 3339 text, or Unix seconds or milliseconds as a number
 * or as decimal text.
 *
 * @returns null where the value is none of these. Whether the time makes sense is not judged.
 */
export function readSensorTime(value: unknown): SensorTime | null {
  if (typeof value === "string") {
    const atMs = parseRfc3339(value.trim());
    return atMs === null ? readUnixTime(parseDecimal(value)) : { kind: "absolute", atMs };
  }
  return readUnixTime(typeof value === "number" ? value : null);
}

function readUnixTime(value: number | null): SensorTime | null {
  if (value === null || !Number.isFinite(value)) return null;
  const isMs = Math.abs(value) >= MILLISECONDS_FROM;
  return { kind: "absolute", atMs: Math.round(isMs ? value : value * SECOND_MS) };
}
