import { startOfLocalDay } from "../../shared/site-calendar.js";
import { latestWallMs } from "./wall-time.js";

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
  digest: Readonly<{ weekday: number; time: string }>,
  timezone: string,
): Readonly<{ fromMs: number; toMs: number }> {
  const toMs = startOfLocalDay(latestWallMs(nowMs, digest, timezone), timezone);
  let fromMs = toMs;
  for (let day = 0; day < 7; day++) fromMs = startOfLocalDay(fromMs - 1, timezone);
  return { fromMs, toMs };
}
