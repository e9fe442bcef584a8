import {
  startOfLocalDay,
  startOfLocalHour,
  startOfNextLocalDay,
} from "../../shared/site-calendar.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import type { Look } from "./look.js";
import type { Stretch } from "./material.js";
import { clock, dayNumber, shortDayWords } from "./words.js";

/** A line of the time axis; days are stronger than hours. */
export type Tick = Readonly<{ atMs: number; label: string; isDay: boolean }>;

const STEPS_MS = [5, 10, 15, 30, 60, 120, 180, 360, 720].map((minutes) => minutes * MINUTE_MS);
const LEAST_APART_PX = 46;
const DAY_APART_PX = 72;
const WEEKDAY_APART_PX = 38;
const MOST_TICKS = 400;

/**
 * Where the time axis has lines, and what stands there: clock times of the site, and its days
 * where they begin. Where days are narrow only some are named.
 */
export function timeTicks(span: Stretch, pxPerMs: number, look: Look): Tick[] {
  const stepMs = STEPS_MS.find((ms) => ms * pxPerMs >= LEAST_APART_PX);
  return stepMs === undefined ? dayTicks(span, pxPerMs, look) : clockTicks(span, stepMs, look);
}

function clockTicks(span: Stretch, stepMs: number, look: Look): Tick[] {
  const ticks: Tick[] = [];
  let dayMs = startOfLocalDay(span.fromMs, look.timezone);
  while (dayMs < span.toMs && ticks.length < MOST_TICKS) {
    const nextMs = startOfNextLocalDay(dayMs, look.timezone);
    for (let atMs = dayMs; atMs < nextMs && atMs < span.toMs; atMs += stepMs) {
      // On the day of a change of the clocks, whole hours move against the day's beginning.
      const evenMs = stepMs >= HOUR_MS ? startOfLocalHour(atMs, look.timezone) : atMs;
      const isDay = atMs === dayMs;
      if (evenMs >= span.fromMs) ticks.push({ atMs: evenMs, label: clock(evenMs, look), isDay });
    }
    dayMs = nextMs;
  }
  return ticks;
}

function dayTicks(span: Stretch, pxPerMs: number, look: Look): Tick[] {
  const ticks: Tick[] = [];
  const dayPx = DAY_MS * pxPerMs;
  let fromMs = startOfLocalDay(span.fromMs, look.timezone);
  if (fromMs < span.fromMs) fromMs = startOfNextLocalDay(fromMs, look.timezone);
  while (fromMs < span.toMs && ticks.length < MOST_TICKS) {
    const number = Number(dayNumber(fromMs, look));
    const isNamed = dayPx >= 14 || number === 1 || number % 5 === 0;
    const words = shortDayWords(fromMs, look);
    const named = dayPx >= DAY_APART_PX ? words : words.replace(/ \p{L}+$/u, "");
    const label = dayPx >= WEEKDAY_APART_PX ? named : isNamed ? String(number) : "";
    ticks.push({ atMs: fromMs, label, isDay: true });
    fromMs = startOfNextLocalDay(fromMs, look.timezone);
  }
  return ticks;
}
