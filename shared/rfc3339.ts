import { MINUTE_MS, SECOND_MS } from "./time.js";

// RFC 3339, section 5.6: "T" and "Z" may be lower case, and a space may stand for "T".
const DATE_TIME =
  /^(\d{4})-(\d\d)-(\d\d)[Tt ](\d\d):(\d\d):(\d\d)(?:\.(\d{1,20}))?(?:[Zz]|([+-])(\d\d):(\d\d))$/;

/**
 * Read a date-time of RFC 3339, strictly: an offset must be there, and the day must exist.
 *
 * Digits finer than a millisecond are dropped. A leap second (23:59:60 UTC on the last day of a
 * month) is the first moment of the next day, as POSIX time counts. "-00:00" is UTC.
 *
 * @returns Unix time, ms; null for anything else. Never throws.
 *
 * Source: RFC 3339, sections 5.6 and 5.7.
 */
export function parseRfc3339(text: string): number | null {
  const match = DATE_TIME.exec(text);
  if (match === null) return null;
  const [year, month, day, hour, minute, second] = match.slice(1, 7).map(Number) as Parts;
  const midnightMs = dayStartMs(year, month, day);
  if (midnightMs === null || hour > 23 || minute > 59 || second > 60) return null;
  const fractionMs = Number((match[7] ?? "").slice(0, 3).padEnd(3, "0"));
  const offsetMs = readOffsetMs(match[8], Number(match[9] ?? 0), Number(match[10] ?? 0));
  if (offsetMs === null) return null;

  const atMs = midnightMs + (hour * 60 + minute) * MINUTE_MS + second * SECOND_MS - offsetMs;
  if (second === 60) return isMonthStart(atMs) ? atMs : null;
  return atMs + fractionMs;
}

type Parts = [number, number, number, number, number, number];

function dayStartMs(year: number, month: number, day: number): number | null {
  const date = new Date(0);
  // Date.UTC would read the years 0 to 99 as 1900 to 1999.
  date.setUTCFullYear(year, month - 1, day);
  const exists = date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  return exists ? date.getTime() : null;
}

function readOffsetMs(sign: string | undefined, hours: number, minutes: number): number | null {
  if (hours > 23 || minutes > 59) return null;
  return (sign === "-" ? -1 : 1) * (hours * 60 + minutes) * MINUTE_MS;
}

function isMonthStart(atMs: number): boolean {
  const date = new Date(atMs);
  return date.getUTCDate() === 1 && date.getUTCHours() === 0 && date.getUTCMinutes() === 0;
}

/**
 * Write a moment in RFC 3339, in UTC: "2026-11-25T07:16:00Z", with ".123" only where needed.
 *
 * @param atMs Unix time, ms, in the years 0 to 9999
 * @throws {RangeError} outside those years, NaN included
 */
export function formatRfc3339(atMs: number): string {
  const text = new Date(atMs).toISOString();
  if (text.length !== 24) throw new RangeError(`no RFC 3339 date-time: ${atMs} ms`);
  return text.replace(".000Z", "Z");
}
