import { Temporal } from "temporal-polyfill";
import { isCalendarDay } from "../../shared/calendar-day.js";
import { parseRfc3339 } from "../../shared/rfc3339.js";
import { localDay } from "../../shared/site-calendar.js";
import type { FieldReader } from "./fields.js";

/** Before any journal of ours; a year typed wrongly is the usual reason for less. Our choice. */
const EARLIEST_MS = Date.UTC(2000, 0, 1);

/**
 * When a thing was done, Unix ms: now where nothing is typed; a day, "2026-01-11", at its noon or,
 * for today's before noon, now; a time on the site's clock, "2026-01-11 14:30"; or RFC 3339.
 */
export function readWhen(
  fields: FieldReader,
  name: string,
  timezone: string,
  nowMs: number,
): number {
  if (!fields.isGiven(name)) return nowMs;
  const text = fields.text(name);
  const atMs = parseWhen(text, timezone, nowMs);
  if (atMs === null) fields.fault(name, "expected a day such as 2026-01-11, or 2026-01-11 14:30");
  else if (atMs > nowMs) fields.fault(name, "expected a time that is not yet to come");
  else if (atMs < EARLIEST_MS) fields.fault(name, "expected a time from the year 2000 on");
  else return atMs;
  return nowMs;
}

function parseWhen(text: string, timezone: string, nowMs: number): number | null {
  const exact = parseRfc3339(text);
  if (exact !== null) return exact;
  const [, day, clock] = /^(\d{4}-\d\d-\d\d)(?:[ T](\d\d:\d\d))?$/.exec(text) ?? [];
  if (day === undefined || !isCalendarDay(day)) return null;
  if (clock !== undefined && !/^([01]\d|2[0-3]):[0-5]\d$/.test(clock)) return null;
  const atMs = Temporal.PlainDateTime.from(`${day}T${clock ?? "12:00"}`).toZonedDateTime(
    timezone,
  ).epochMilliseconds;
  const isToday = clock === undefined && day === localDay(nowMs, timezone);
  return isToday ? Math.min(atMs, nowMs) : atMs;
}
