import { DAY_MS } from "./time.js";

/** A day of the calendar, "2026-11-25" (ISO 8601). Such texts sort as the days do. */
export type CalendarDay = string;

/** Whether a text is a day that exists, from 0000-01-01 to 9999-12-31. */
export function isCalendarDay(text: string): boolean {
  return /^\d{4}-\d\d-\d\d$/.test(text) && dayText(Date.parse(`${text}T00:00:00Z`)) === text;
}

/** The day that is so many whole days after another, or before it where `days` is negative. */
export function addDays(day: CalendarDay, days: number): CalendarDay {
  const text = dayText(startMs(day) + days * DAY_MS);
  if (text === null) throw new RangeError(`no calendar day is ${days} days after ${day}`);
  return text;
}

/** Days from one to another: 1 from a day to the next, negative backwards. */
export function daysBetween(from: CalendarDay, to: CalendarDay): number {
  return (startMs(to) - startMs(from)) / DAY_MS;
}

function startMs(day: CalendarDay): number {
  if (!isCalendarDay(day)) throw new RangeError(`${day} is no calendar day`);
  return Date.parse(`${day}T00:00:00Z`);
}

// A day has no clock, so that reckoning in UTC knows no change of clocks.
function dayText(atMs: number): string | null {
  return Number.isNaN(atMs) ? null : new Date(atMs).toISOString().slice(0, 10);
}
