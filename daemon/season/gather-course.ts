import type { Chamber, Site } from "../../shared/site.js";
import { cocoonSeriesId } from "../../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import type {
  Annotation,
  Course,
  CourseMaterial,
  ExcursionMark,
  Piece,
  Stretch,
  ToldForecast,
} from "../drawing/material.js";
import type { Store } from "../store/records.js";
import { gatherWinter } from "./gather-winter.js";
import { airCourse, probesIn } from "./hour-courses.js";

/** What a course is gathered from. */
export type CourseStore = Pick<Store, "rollups" | "excursions" | "readings" | "journal">;

/** Up to here single readings are drawn, beyond it hours. */
const READINGS_UP_TO_MS = 2 * DAY_MS;
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
  others: readonly Annotation[] = [],
): CourseMaterial {
  const byHour = gatherWinter(store, site, chamber, span, nowMs, others);
  const forecasts = forecastsOf(store, byHour.excursions, nowMs);
  if (span.toMs - span.fromMs > READINGS_UP_TO_MS)
    return { ...byHour, air: airCourse(store, site, chamber.id, byHour.watched), forecasts };
  const read = (ids: readonly string[], quantity: "temperatureC" | "humidityPct") =>
    readingsOf(store, ids, quantity, span, nowMs);
  const [boxes, airs] = [probesIn(site, chamber.id, "box"), probesIn(site, chamber.id, "air")];
  const cocoons = read([cocoonSeriesId(chamber.id)], "temperatureC");
  const boxHumidity = read(boxes.slice(0, 1), "humidityPct");
  return {
    ...byHour,
    ...(cocoons.length > 0 ? { cocoons } : {}),
    humidity: boxHumidity.length > 0 ? boxHumidity : read(airs.slice(0, 1), "humidityPct"),
    air: read(airs.slice(0, 1), "temperatureC"),
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

function readingsOf(
  store: CourseStore,
  ids: readonly string[],
  quantity: "temperatureC" | "humidityPct",
  { fromMs, toMs }: Stretch,
  nowMs: number,
): Course {
  const pieces: Piece[] = [];
  for (const id of ids)
    for (const reading of store.readings.between(id, fromMs, Math.min(toMs, nowMs))) {
      const value = reading[quantity];
      if (value === null) continue;
      const atMs = reading.takenAtMs;
      const last = pieces.at(-1);
      // A reading stands until the next one, unless that is long in coming.
      if (last !== undefined && atMs - last.fromMs <= MEETS_WITHIN_MS)
        pieces[pieces.length - 1] = { ...last, toMs: atMs };
      pieces.push({ fromMs: atMs, toMs: atMs + 1, low: value, mean: value, high: value });
    }
  return pieces;
}
