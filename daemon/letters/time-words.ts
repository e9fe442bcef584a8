import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const formats = new Map<string, Intl.DateTimeFormat>();
// A process serves one site; a test may bring a few more.
const MOST_FORMATS = 32;

function formatOf(timezone: string, fields: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${timezone} ${JSON.stringify(fields)}`;
  const known = formats.get(key);
  if (known) return known;
  if (formats.size >= MOST_FORMATS) formats.clear();
  const made = new Intl.DateTimeFormat("en-GB", { ...fields, timeZone: timezone });
  formats.set(key, made);
  return made;
}

function partOf(
  type: Intl.DateTimeFormatPartTypes,
  atMs: number,
  timezone: string,
  fields: Intl.DateTimeFormatOptions,
): string {
  return (
    formatOf(timezone, fields)
      .formatToParts(atMs)
      .find((part) => part.type === type)?.value ?? ""
  );
}

function offsetOf(atMs: number, timezone: string): string {
  return partOf("timeZoneName", atMs, timezone, { timeZoneName: "longOffset" });
}

/** How a reader counts hours: to 23, as letters do, or twice to 12. */
export type HourCycle = "h23" | "h12";

function clockOf(atMs: number, timezone: string, hourCycle: HourCycle): string {
  const minute = "2-digit";
  if (hourCycle === "h23")
    return formatOf(timezone, { hour: "2-digit", minute, hourCycle }).format(atMs);
  const fields = { hour: "numeric", minute, hourCycle } as const;
  const of = (type: Intl.DateTimeFormatPartTypes) => partOf(type, atMs, timezone, fields);
  return `${of("hour")}:${of("minute")} ${of("dayPeriod")}`;
}

/**
 * Clock time at the site, "03:15", or "3:15 am"; near a change of the clocks the zone stands with
 * it.
 */
export function clockWords(atMs: number, timezone: string, hourCycle: HourCycle = "h23"): string {
  const shown = clockOf(atMs, timezone, hourCycle);
  // An hour that the clocks live through twice would otherwise be ambiguous.
  const steady = offsetOf(atMs - 3 * HOUR_MS, timezone) === offsetOf(atMs + 3 * HOUR_MS, timezone);
  if (steady) return shown;
  return `${shown} ${partOf("timeZoneName", atMs, timezone, { timeZoneName: "short" })}`;
}

/** Calendar day at the site: "Sunday 11 January". */
export function dayWords(atMs: number, timezone: string): string {
  const fields = { weekday: "long", day: "numeric", month: "long" } as const;
  const of = (type: Intl.DateTimeFormatPartTypes) => partOf(type, atMs, timezone, fields);
  return `${of("weekday")} ${of("day")} ${of("month")}`;
}

/** Calendar day with its year, without the weekday: "11 January 2026". */
export function dateWords(atMs: number, timezone: string): string {
  return formatOf(timezone, { day: "numeric", month: "long", year: "numeric" }).format(atMs);
}

/** A calendar day as `dateWords` says it, wherever it is: "11 January 2026". */
export function calendarWords(day: string): string {
  return dateWords(Date.parse(`${day}T12:00:00Z`), "UTC");
}

/** "03:15 on Sunday 11 January", in the site's zone. */
export function momentWords(atMs: number, timezone: string, hourCycle?: HourCycle): string {
  return `${clockWords(atMs, timezone, hourCycle)} on ${dayWords(atMs, timezone)}`;
}

/** "03:15 to 05:40 on Sunday 11 January", or with both days where they differ. */
export function stretchWords(
  fromMs: number,
  toMs: number,
  timezone: string,
  hourCycle?: HourCycle,
): string {
  const isOneDay = dayWords(fromMs, timezone) === dayWords(toMs, timezone);
  const from = isOneDay
    ? clockWords(fromMs, timezone, hourCycle)
    : momentWords(fromMs, timezone, hourCycle);
  return `${from} to ${momentWords(toMs, timezone, hourCycle)}`;
}

const counted = (count: number, noun: string): string =>
  `${count} ${noun}${count === 1 ? "" : "s"}`;

/** How long something lasted: "12 minutes", "2 hours 25 minutes", "3 days 4 hours". */
export function durationWords(durationMs: number): string {
  const minutes = Math.max(0, Math.round(durationMs / MINUTE_MS));
  if (minutes < 1) return "less than a minute";
  if (minutes < 60) return counted(minutes, "minute");
  const hours = Math.floor(minutes / 60);
  if (hours < 48) {
    const rest = minutes % 60;
    return rest === 0
      ? counted(hours, "hour")
      : `${counted(hours, "hour")} ${counted(rest, "minute")}`;
  }
  const allHours = Math.round(minutes / 60);
  const [days, restHours] = [Math.floor(allHours / 24), allHours % 24];
  return restHours === 0
    ? counted(days, "day")
    : `${counted(days, "day")} ${counted(restHours, "hour")}`;
}
