import { DAY_MS } from "../shared/time.js";

/** Time that cocoons have spent cold enough to end their sleep; only what was seen counts. */
export type ChillDays = Readonly<{ atMs: number; cocoonC: number; days: number }>;

export function beginChillDays(): ChillDays {
  return { atMs: 0, cocoonC: 0, days: 0 };
}

/**
 * Add the time up to `atMs`, along a straight line from the last temperature. Total.
 *
 * @param atMs Unix ms; a step back in time changes nothing
 * @param belowC time at this or below counts, °C; see the species profiles
 * @param longestMs a longer step was not seen and adds nothing
 */
export function stepChillDays(
  state: ChillDays,
  atMs: number,
  cocoonC: number,
  belowC: number,
  longestMs: number,
): ChillDays {
  const spanMs = atMs - state.atMs;
  if (!(spanMs > 0)) return state;
  const share = spanMs > longestMs ? 0 : shareBelow(state.cocoonC - belowC, cocoonC - belowC);
  return { atMs, cocoonC, days: state.days + (share * spanMs) / DAY_MS };
}

/** Share of a straight line from `a` to `b` that lies at zero or below. */
function shareBelow(a: number, b: number): number {
  if (a <= 0 && b <= 0) return 1;
  if (a > 0 && b > 0) return 0;
  return Math.min(a, b) / -Math.abs(a - b);
}
