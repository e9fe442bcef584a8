import { startOfNextLocalDay } from "../shared/site-calendar.js";
import { DAY_MS, HOUR_MS } from "../shared/time.js";

/** One calendar day of the site, or what was seen of it. */
export type DryDay = Readonly<{
  /** Middle of the day, Unix ms. */
  atMs: number;
  /** Mean over the time that was seen, %. */
  humidityPct: number;
  /** Deficit times time, hPa·h. */
  deficitHpaH: number;
}>;

/** How a box dries since it was last damped; only time that was seen counts. */
export type Drying = Readonly<{
  atMs: number;
  humidityPct: number;
  deficitHpa: number;
  /** When it was last damped, Unix ms; null while nobody has said. */
  dampedMs: number | null;
  /** Whole days since then, oldest first; at most `DAYS_MOST`. */
  days: readonly DryDay[];
  /** hPa·h since then: of the days that are no longer kept, and of the present one. */
  olderHpaH: number;
  todayHpaH: number;
  todayPctMs: number;
  todaySeenMs: number;
  todayEndsMs: number;
}>;

/** Longest course that is kept; our choice, two or three dampings by common practice. */
const DAYS_MOST = 60;
/** A day of which less was seen has no mean; our choice. */
const SEEN_LEAST_MS = 6 * HOUR_MS;

export function beginDrying(): Drying {
  return {
    atMs: 0,
    humidityPct: 0,
    deficitHpa: 0,
    dampedMs: null,
    days: [],
    olderHpaH: 0,
    todayHpaH: 0,
    todayPctMs: 0,
    todaySeenMs: 0,
    todayEndsMs: 0,
  };
}

/**
 * Add the time up to `atMs`, along a straight line from the last values. Total.
 *
 * A step over midnight counts to the day in which it ends.
 *
 * @param atMs Unix ms; a step back in time changes nothing
 * @param humidityPct at the cocoons, %
 * @param deficitHpa vapour pressure deficit at the cocoons, hPa
 * @param timezone IANA name of the site's zone, whose days are meant
 * @param longestMs a longer step was not seen and adds nothing
 */
export function stepDrying(
  state: Drying,
  atMs: number,
  humidityPct: number,
  deficitHpa: number,
  timezone: string,
  longestMs = HOUR_MS,
): Drying {
  const spanMs = atMs - state.atMs;
  if (!(spanMs > 0)) return state;
  const day = atMs < state.todayEndsMs ? state : closeDay(state, atMs, timezone);
  const seenMs = spanMs > longestMs ? 0 : spanMs;
  const meanPct = (state.humidityPct + humidityPct) / 2;
  const meanHpa = (state.deficitHpa + deficitHpa) / 2;
  return {
    atMs,
    humidityPct,
    deficitHpa,
    dampedMs: state.dampedMs,
    days: day.days,
    olderHpaH: day.olderHpaH,
    todayHpaH: day.todayHpaH + (meanHpa * seenMs) / HOUR_MS,
    todayPctMs: day.todayPctMs + meanPct * seenMs,
    todaySeenMs: day.todaySeenMs + seenMs,
    todayEndsMs: day.todayEndsMs,
  };
}

function closeDay(state: Drying, atMs: number, timezone: string): Drying {
  const { todayHpaH: deficitHpaH, todaySeenMs, todayEndsMs } = state;
  const humidityPct = state.todayPctMs / todaySeenMs;
  const isWhole = todaySeenMs >= SEEN_LEAST_MS;
  const ended = {
    atMs: todayEndsMs - DAY_MS / 2,
    humidityPct: rounded(humidityPct),
    deficitHpaH: rounded(deficitHpaH),
  };
  const days = isWhole ? [...state.days, ended] : state.days;
  const gone = days.slice(0, -DAYS_MOST).reduce((sum, day) => sum + day.deficitHpaH, 0);
  return {
    ...state,
    days: days.slice(-DAYS_MOST),
    olderHpaH: state.olderHpaH + gone + (isWhole ? 0 : deficitHpaH),
    todayHpaH: 0,
    todayPctMs: 0,
    todaySeenMs: 0,
    todayEndsMs: startOfNextLocalDay(atMs, timezone),
  };
}

/** Finer than any sensor, and short to store: the days are most of what a chamber remembers. */
const rounded = (value: number): number => Math.round(value * 100) / 100;

/**
 * The keeper has damped the paper: what came before counts no more. Said late, the day of the
 * damping is left out too, since a mean of before and after tells nothing. An older damping than
 * the last one changes nothing. Total.
 */
export function damp(state: Drying, dampedMs: number): Drying {
  if (state.dampedMs !== null && dampedMs <= state.dampedMs) return state;
  const isToday = dampedMs >= state.todayEndsMs - DAY_MS;
  const days = state.days.filter((day) => day.atMs - DAY_MS / 2 >= dampedMs);
  const cleared = { ...state, dampedMs, days, olderHpaH: 0 };
  return isToday ? { ...cleared, todayHpaH: 0, todayPctMs: 0, todaySeenMs: 0 } : cleared;
}

/** Vapour pressure deficit times time since the last damping, or since the first reading, hPa·h. */
export function deficitHours(state: Drying): number {
  const ofDays = state.days.reduce((sum, day) => sum + day.deficitHpaH, 0);
  return state.olderHpaH + ofDays + state.todayHpaH;
}
