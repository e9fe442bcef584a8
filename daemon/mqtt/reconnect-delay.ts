import { MINUTE_MS, SECOND_MS } from "../../shared/time.js";

/**
 * How long to wait before the next try to connect, ms: 1 s, doubling up to 1 minute. Our choice:
 * a broker that restarts is found at once, one that stays away is not pestered.
 *
 * @param failures how many tries have failed in a row, 0 or more
 */
export function reconnectDelayMs(failures: number): number {
  return Math.min(MINUTE_MS, SECOND_MS * 2 ** Math.min(failures, 6));
}
