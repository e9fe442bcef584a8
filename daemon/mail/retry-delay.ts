import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";

/** First and longest wait between tries (our choice). */
const FIRST_WAIT_MS = MINUTE_MS;
export const LONGEST_WAIT_MS = 2 * HOUR_MS;

/** RFC 5321 section 4.5.4.1: give-up time generally needs to be at least 4 to 5 days. */
export const GIVE_UP_AFTER_MS = 5 * DAY_MS;

/**
 * Waits after a letter was refused for good (5yz), spread over hours, because a full mailbox or a
 * mistaken block is often mended within a night (our choice). A refusal after these tries gives
 * the letter up, if the try before it was a refusal too.
 */
const REFUSED_WAITS_MS: readonly number[] = [15 * MINUTE_MS, HOUR_MS, 4 * HOUR_MS];

/** Wait after the `failures`-th failure in a row (1 or more): 1, 2, 4 … minutes, at most 2 h. */
export function retryDelayMs(failures: number): number {
  // Beyond 2^7 minutes the longest wait rules, and 2 ** failures stays a small number.
  return Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** Math.min(Math.max(failures, 1) - 1, 10));
}

/** What a failed try means for one delivery. */
type Verdict = Readonly<{ giveUp: boolean; nextTryAtMs: number }>;

/** One failed try. */
type FailedTry = Readonly<{
  /** A 5yz answer to this keeper's letter, or anything that may pass by itself. */
  kind: "refused" | "later";
  /** Tries that have failed so far, this one included. */
  failures: number;
  /** Whether the try before this one was refused as well. */
  refusedBefore: boolean;
  /** How long ago the letter was composed. */
  ageMs: number;
}>;

/** Whether and when to try a delivery again. */
export function afterFailure(failed: FailedTry, nowMs: number): Verdict {
  const { kind, failures, refusedBefore, ageMs } = failed;
  const last = REFUSED_WAITS_MS.length - 1;
  const spent = kind === "refused" && refusedBefore && failures > REFUSED_WAITS_MS.length;
  if (spent || ageMs >= GIVE_UP_AFTER_MS) return { giveUp: true, nextTryAtMs: nowMs };
  const waitMs =
    kind === "refused" ? REFUSED_WAITS_MS[Math.min(failures - 1, last)]! : retryDelayMs(failures);
  return { giveUp: false, nextTryAtMs: nowMs + waitMs };
}
