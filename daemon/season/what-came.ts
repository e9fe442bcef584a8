import { MINUTE_MS } from "../../shared/time.js";
import type { Course, ToldForecast } from "../drawing/material.js";

/** What came of one temperature that the cocoons were foretold to reach. */
export type Outcome = Readonly<{
  targetC: number;
  soonestMs: number;
  /** null where they were never sure to get there. */
  latestMs: number | null;
  /** When they got there; null where they did not, as far as is known. */
  cameMs: number | null;
  verdict: "as-foretold" | "sooner" | "later" | "over-first" | "ahead" | "not-seen";
}>;

/**
 * Hold a forecast against what came.
 *
 * @param cocoons their course, from the forecast on
 * @param endedAtMs when what it was about was over, from when on it holds no more; null while it
 *   lasts
 */
export function whatCame(
  { atMs, cocoonC, forecast }: ToldForecast,
  cocoons: Course,
  endedAtMs: number | null,
  nowMs: number,
): Outcome[] {
  const { low, high } = forecast.settlesAtC;
  const untilMs = endedAtMs ?? nowMs;
  const course = cocoons.filter(({ toMs, fromMs }) => toMs > atMs && fromMs < untilMs);
  return forecast.reaches.flatMap((reach) => {
    const { targetC, soonestMin, latestMin } = reach;
    const fromC = cocoonC ?? course[0]?.mean ?? null;
    if (fromC === null) return [];
    const isWarming = (low + high) / 2 > fromC;
    // What they were past already was no forecast.
    if (isWarming ? fromC >= targetC : fromC <= targetC) return [];
    const there = course.find(({ mean }) => (isWarming ? mean >= targetC : mean <= targetC));
    const cameMs = there === undefined ? null : Math.max(atMs, there.fromMs);
    const soonestMs = atMs + soonestMin * MINUTE_MS;
    const latestMs = latestMin === null ? null : atMs + latestMin * MINUTE_MS;
    const when = { targetC, soonestMs, latestMs, cameMs };
    return [{ ...when, verdict: verdictOf(when, course, endedAtMs, nowMs) }];
  });
}

/** A course is by minutes or by hours, so that a moment is only known as well as that. */
const NEAR_MS = 10 * MINUTE_MS;

function verdictOf(
  { soonestMs, latestMs, cameMs }: Omit<Outcome, "verdict">,
  course: Course,
  endedAtMs: number | null,
  nowMs: number,
): Outcome["verdict"] {
  if (cameMs !== null) {
    if (cameMs < soonestMs - NEAR_MS) return "sooner";
    return latestMs !== null && cameMs > latestMs + NEAR_MS ? "later" : "as-foretold";
  }
  if (course.length === 0) return "not-seen";
  if (endedAtMs !== null && (latestMs === null || endedAtMs <= latestMs)) return "over-first";
  if (endedAtMs === null && (latestMs === null || nowMs <= latestMs)) return "ahead";
  return "later";
}
