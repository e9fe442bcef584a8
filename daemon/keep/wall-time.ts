import { Temporal } from "temporal-polyfill";

/** A time on the site's wall that comes again each day, or each week on `weekday` (0 is Sunday). */
export type WallTime = Readonly<{ time: string; weekday?: number }>;

/**
 * The latest moment, not after `nowMs`, at which a wall time came. A time that clocks pass over
 * comes as much later, one that they show twice comes the first time (RFC 5545, section 3.3.5).
 *
 * To be asked every minute or so. A timer until the next moment was turned down: it runs by the
 * steady clock, and so is late or lost once the wall clock is set.
 *
 * @param wall its `time` is "HH:MM"
 * @param timezone IANA name
 */
export function latestWallMs(nowMs: number, { time, weekday }: WallTime, timezone: string): number {
  const now = Temporal.Instant.fromEpochMilliseconds(Math.floor(nowMs));
  const today = now.toZonedDateTimeISO(timezone).toPlainDate();
  for (let back = 0; back < 15; back++) {
    const day = today.subtract({ days: back });
    // Temporal counts Monday 1 to Sunday 7.
    if (weekday !== undefined && day.dayOfWeek % 7 !== weekday) continue;
    const atMs = day.toPlainDateTime(time).toZonedDateTime(timezone).epochMilliseconds;
    if (atMs <= nowMs) return atMs;
  }
  throw new RangeError(`no ${time} on a weekday ${weekday} within two weeks`);
}
