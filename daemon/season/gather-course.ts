import { humidityFault, temperatureFault } from "../../shared/fault-value.js";
import type { Chamber, Site } from "../../shared/site.js";
import { cocoonSeriesId } from "../../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import type {
  Course,
  CourseMaterial,
  ExcursionMark,
  Piece,
  Stretch,
  ToldForecast,
} from "../drawing/material.js";
import type { Rollup, Store } from "../store/records.js";
import { gatherWinter, type WinterStore } from "./gather-winter.js";
import { airCourse, probesIn } from "./hour-courses.js";

/** What a course is gathered from. */
export type CourseStore = WinterStore & Pick<Store, "readings">;

/** Up to here single readings are drawn, then stretches of two minutes, and beyond those hours. */
const READINGS_UP_TO_MS = 6 * HOUR_MS;
const MINUTES_UP_TO_MS = 2 * DAY_MS;
/** A silence longer than this is no line; cocoons are written each five minutes. Our choice. */
const MEETS_WITHIN_MS = 15 * MINUTE_MS;

const MOST_FORECASTS = 4;

/** Read what a day, a month or an excursion's picture needs. Raw readings only for short spans. */
export function gatherCourse(
  store: CourseStore,
  site: Site,
  chamber: Chamber,
  span: Stretch,
  nowMs: number,
): CourseMaterial {
  const byHour = gatherWinter(store, site, chamber, span, nowMs);
  const forecasts = forecastsOf(store, byHour.excursions, nowMs);
  const hourly = airCourse(store, site, chamber.id, byHour.watched);
  if (span.toMs - span.fromMs > MINUTES_UP_TO_MS) return { ...byHour, air: hourly, forecasts };
  const toMs = Math.min(span.toMs, nowMs);
  const near =
    span.toMs - span.fromMs > READINGS_UP_TO_MS
      ? (id: string) => store.rollups.minutes(id, span.fromMs, toMs)
      : readingsOf(store, span.fromMs, toMs);
  const [boxes, airs] = [probesIn(site, chamber.id, "box"), probesIn(site, chamber.id, "air")];
  const courseOf = (ids: readonly string[], read: Read) =>
    ids.map((id) => joined(near(id), read)).find((course) => course.length > 0) ?? [];
  const cocoons = joined(near(cocoonSeriesId(chamber.id)), warmth);
  const boxHumidity = courseOf(boxes, water);
  const humidity = boxHumidity.length > 0 ? boxHumidity : courseOf(airs, water);
  const air = courseOf(airs, warmth);
  // Where raw readings are forgotten, their hours are not.
  return {
    ...byHour,
    cocoons: cocoons.length > 0 ? cocoons : byHour.cocoons,
    humidity: humidity.length > 0 ? humidity : byHour.humidity,
    air: air.length > 0 ? air : hourly,
    forecasts,
  };
}

/**
 * What to show around an excursion: some time before it, so that what is usual is seen, and some
 * after it, or what was foretold.
 */
export function spanAround(
  { startedAtMs, endedAtMs }: Pick<ExcursionMark, "startedAtMs" | "endedAtMs">,
  nowMs: number,
): Stretch {
  const lastedMs = (endedAtMs ?? nowMs) - startedAtMs;
  const marginMs = Math.min(12 * HOUR_MS, Math.max(1.5 * HOUR_MS, lastedMs / 3));
  return { fromMs: startedAtMs - marginMs, toMs: (endedAtMs ?? nowMs) + marginMs };
}

/** What was foretold first of what is over, to be held against what came; else the newest. */
function forecastsOf(
  store: CourseStore,
  marks: readonly ExcursionMark[],
  nowMs: number,
): ToldForecast[] {
  return marks
    .filter(({ urgency }) => urgency !== "note")
    .slice(0, MOST_FORECASTS)
    .flatMap(({ id, endedAtMs }) => {
      const told = store.excursions
        .history(id)
        .flatMap(({ atMs, change, cocoonC, forecast }) =>
          atMs > nowMs || change === "ended" || forecast === null
            ? []
            : [{ atMs, cocoonC, forecast }],
        );
      return told.slice(...(endedAtMs === null ? [-1] : [0, 1]));
    });
}

type Value = Readonly<{ low: number; mean: number; high: number }>;
/** A reading, or some of them, with when it was taken. */
type Near = Readonly<{ fromMs: number }>;

type Read = (one: Pick<Rollup, "temperature" | "humidity">) => Value | null;

const warmth: Read = ({ temperature: t }) => t && { low: t.lowC, mean: t.meanC, high: t.highC };
const water: Read = ({ humidity: h }) => h && { low: h.lowPct, mean: h.meanPct, high: h.highPct };

/** One probe's single readings, corrected as its hours are. */
function readingsOf(store: CourseStore, fromMs: number, toMs: number) {
  const corrector = store.checks.corrector();
  return (id: string): (Near & Pick<Rollup, "temperature" | "humidity">)[] =>
    [...store.readings.between(id, fromMs, toMs)].map((reading) => {
      const { takenAtMs, temperatureC: c, humidityPct: pct } = corrector.correct(reading);
      const isWarmth = c !== null && temperatureFault(c) === null;
      const isWater = pct !== null && humidityFault(pct) === null;
      return {
        fromMs: takenAtMs,
        temperature: isWarmth ? { count: 1, lowC: c, meanC: c, highC: c } : null,
        humidity: isWater ? { count: 1, lowPct: pct, meanPct: pct, highPct: pct } : null,
      };
    });
}

/** What was read stands until the next, unless that is long in coming. */
function joined<T extends Near>(near: readonly T[], read: (one: T) => Value | null): Course {
  const pieces: { -readonly [Key in keyof Piece]: Piece[Key] }[] = [];
  for (const one of near) {
    const value = read(one);
    if (value === null) continue;
    const { fromMs } = one;
    const last = pieces.at(-1);
    if (last !== undefined && fromMs - last.fromMs <= MEETS_WITHIN_MS) last.toMs = fromMs;
    pieces.push({ fromMs, toMs: fromMs + 1, low: value.low, mean: value.mean, high: value.high });
  }
  return pieces;
}
