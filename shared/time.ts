export const SECOND_MS = 1_000;
export const MINUTE_MS = 60 * SECOND_MS;
export const HOUR_MS = 60 * MINUTE_MS;
export const DAY_MS = 24 * HOUR_MS;

/**
 * The first moment that a clock can honestly show, Unix ms: 2024-01-01, before any Drowse ran.
 * A board without a clock battery wakes before it. Our choice.
 */
export const SANE_FROM_MS = Date.UTC(2024, 0, 1);

/** Whether a clock that shows this moment (Unix ms) has been set at all; false for NaN. */
export function isSaneClock(atMs: number): boolean {
  return atMs >= SANE_FROM_MS;
}
