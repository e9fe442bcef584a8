import type { Happening } from "./script.js";
import { draw, drawBetween, drawRatio, type Seeded } from "./seeded.js";

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
/** Waking hours; common practice, no source. */
const WAKE_HOUR = 6.5;
const BED_HOUR = 22.5;
const SHORTEST_S = 5;
const LONGEST_S = 90;

/** Mean of a length drawn so that each ratio from 5 to 90 s is as likely, s. */
export const MEAN_OPENING_S = (LONGEST_S - SHORTEST_S) / Math.log(LONGEST_S / SHORTEST_S);

/**
 * Ordinary openings of the door: 5 to 90 s, at random in waking hours (UTC), the day's number
 * varying about `perDay`. In order of time within each day.
 */
export function openDaily(
  random: Seeded,
  perDay: number,
  startMs: number,
  endMs: number,
): Happening[] {
  const openings: Happening[] = [];
  for (let dayMs = startMs - (startMs % DAY_MS); dayMs < endMs; dayMs += DAY_MS) {
    const count = Math.round(perDay + drawBetween(random, -2, 2));
    for (let i = 0; i < count; i++) {
      const hour = drawBetween(random, WAKE_HOUR, BED_HOUR);
      const lengthS = drawRatio(random, SHORTEST_S, LONGEST_S);
      const share = 0.3 + 0.7 * draw(random);
      const fromMs = dayMs + hour * HOUR_MS;
      if (fromMs < startMs) continue;
      openings.push({ kind: "door", startMs: fromMs, endMs: fromMs + lengthS * 1_000, share });
    }
  }
  return openings.sort((a, b) => a.startMs - b.startMs);
}
