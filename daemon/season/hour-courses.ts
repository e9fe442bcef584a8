import type { Place, Site } from "../../shared/site.js";
import { cocoonSeriesId } from "../../shared/site.js";
import { HOUR_MS } from "../../shared/time.js";
import type { Course, Piece, Stretch } from "../drawing/material.js";
import type { Rollup, Store } from "../store/records.js";

type Rollups = Pick<Store, "rollups">;
type Value = Readonly<{ low: number; mean: number; high: number }>;
type Read = (rollup: Rollup) => Value | null;

const temperature: Read = ({ temperature: t }) =>
  t === null ? null : { low: t.lowC, mean: t.meanC, high: t.highC };
const humidity: Read = ({ humidity: h }) =>
  h === null ? null : { low: h.lowPct, mean: h.meanPct, high: h.highPct };

/** The courses of one chamber by the hour, from rollups alone. */
export type HourCourses = Readonly<{
  cocoons: Course;
  isReckoned: boolean;
  humidity: Course;
}>;

/**
 * What a chamber's cocoons felt, hour by hour: the series the judge wrote; where there is none,
 * probes in boxes. Humidity from boxes where they measure it, else from the air.
 */
export function hourCourses(
  store: Rollups,
  site: Site,
  chamberId: string,
  span: Stretch,
): HourCourses {
  const [boxes, airs] = [probesIn(site, chamberId, "box"), probesIn(site, chamberId, "air")];
  const seriesId = cocoonSeriesId(chamberId);
  const hours = hoursOf(store, [seriesId, ...boxes], span);
  const series = hours.filter(({ probeId }) => probeId === seriesId);
  const boxHours = hours.filter(({ probeId }) => probeId !== seriesId);
  const cocoons = toCourse(series.length > 0 ? series : boxHours, temperature, span);
  const boxHumidity = toCourse(boxHours, humidity, span);
  return {
    cocoons,
    isReckoned: boxes.length === 0 && series.length > 0,
    humidity:
      boxHumidity.length > 0 ? boxHumidity : toCourse(hoursOf(store, airs, span), humidity, span),
  };
}

/** The temperature of a chamber's air, hour by hour. */
export const airCourse = (store: Rollups, site: Site, chamberId: string, span: Stretch): Course =>
  toCourse(hoursOf(store, probesIn(site, chamberId, "air"), span), temperature, span);

/** Ids of a chamber's probes at one place. */
export const probesIn = (site: Site, chamberId: string, place: Place): string[] =>
  site.probes
    .filter((probe) => probe.chamberId === chamberId && probe.place === place)
    .map(({ id }) => id);

const hoursOf = (store: Rollups, ids: readonly string[], { fromMs, toMs }: Stretch): Rollup[] =>
  store.rollups.hoursOfAll(ids, fromMs, toMs);

/** One piece for each hour; of several probes the mean of means and the widest reach. */
function toCourse(rollups: readonly Rollup[], read: Read, { toMs }: Stretch): Course {
  const hours = new Map<number, { count: number; piece: Piece }>();
  for (const rollup of rollups) {
    const value = read(rollup);
    if (value === null) continue;
    const { fromMs } = rollup;
    const before = hours.get(fromMs);
    if (before === undefined) {
      const piece = { fromMs, toMs: Math.min(fromMs + HOUR_MS, toMs), ...value };
      hours.set(fromMs, { count: 1, piece });
      continue;
    }
    const { count, piece } = before;
    hours.set(fromMs, {
      count: count + 1,
      piece: {
        ...piece,
        low: Math.min(piece.low, value.low),
        mean: (piece.mean * count + value.mean) / (count + 1),
        high: Math.max(piece.high, value.high),
      },
    });
  }
  return [...hours.values()].map(({ piece }) => piece).sort((a, b) => a.fromMs - b.fromMs);
}
