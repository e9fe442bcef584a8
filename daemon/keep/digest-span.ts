import { startOfLocalDay, startOfNextLocalDay } from "../../shared/site-calendar.js";
import { HOUR_MS } from "../../shared/time.js";

/**
 * The seven calendar days that the latest due digest tells of: those before the latest day, today
 * included, on which a digest is due. A digest that fell due while the board was off is still the
 * latest one when it wakes.
 *
 * @param nowMs Unix time, ms
 * @param weekday 0 is Sunday
 * @param time "HH:MM" on the wall clock of the site, at which the digest of that day falls due
 */
export function latestDigestSpan(
  nowMs: number,
  { weekday, time }: Readonly<{ weekday: number; time: string }>,
  timezone: string,
): Readonly<{ fromMs: number; toMs: number }> {
  const [hour, minute] = time.split(":").map(Number);
  let dayMs = startOfLocalDay(nowMs, timezone);
  for (let daysBack = 0; daysBack < 8; daysBack++) {
    const dueMs = dayMs + hour! * HOUR_MS + (minute! * HOUR_MS) / 60;
    if (weekdayOf(dayMs, timezone) === weekday && dueMs <= nowMs) break;
    dayMs = startOfLocalDay(dayMs - 1, timezone);
  }
  let fromMs = dayMs;
  for (let day = 0; day < 7; day++) fromMs = startOfLocalDay(fromMs - 1, timezone);
  return { fromMs, toMs: dayMs };
}

/** Asked at midday, which no change of clocks moves to another date. */
function weekdayOf(dayMs: number, timezone: string): number {
  const name = new Intl.DateTimeFormat("en", { timeZone: timezone, weekday: "short" });
  const noonMs = (dayMs + startOfNextLocalDay(dayMs, timezone)) / 2;
  return ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"].indexOf(name.format(noonMs));
}

/** Each day at "HH:MM" as a cron expression. */
export function cronOfDay(time: string): string {
  const [hour, minute] = time.split(":").map(Number);
  return `${minute} ${hour} * * *`;
}

/** The same as a cron expression: minute, hour, any day, any month, weekday. */
export function cronOf({ weekday, time }: Readonly<{ weekday: number; time: string }>): string {
  const [hour, minute] = time.split(":").map(Number);
  return `${minute} ${hour} * * ${weekday}`;
}
