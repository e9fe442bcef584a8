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
  const hours = openHours(store, span);
  const [boxes, airs] = [probesIn(site, chamberId, "box"), probesIn(site, chamberId, "air")];
  const series = toCourse([hours(cocoonSeriesId(chamberId))], temperature, span);
  const boxHumidity = toCourse(boxes.map(hours), humidity, span);
  return {
    cocoons: series.length > 0 ? series : toCourse(boxes.map(hours), temperature, span),
    isReckoned: boxes.length === 0 && series.length > 0,
    humidity: boxHumidity.length > 0 ? boxHumidity : toCourse(airs.map(hours), humidity, span),
  };
}

/** The temperature of a chamber's air, hour by hour. */
export function airCourse(store: Rollups, site: Site, chamberId: string, span: Stretch): Course {
  return toCourse(probesIn(site, chamberId, "air").map(openHours(store, span)), temperature, span);
}

/** Ids of a chamber's probes at one place. */
export const probesIn = (site: Site, chamberId: string, place: Place): string[] =>
  site.probes
    .filter((probe) => probe.chamberId === chamberId && probe.place === place)
    .map(({ id }) => id);

const openHours =
  ({ rollups }: Rollups, { fromMs, toMs }: Stretch) =>
  (id: string): Rollup[] =>
    rollups.hours(id, fromMs, toMs);

/** One piece for each hour; of several probes the mean of means and the widest reach. */
function toCourse(probes: readonly (readonly Rollup[])[], read: Read, { toMs }: Stretch): Course {
  const heard = probes.map((hours) =>
    hours.flatMap((rollup): Piece[] => {
      const value = read(rollup);
      const { fromMs } = rollup;
      // Written out, since a winter has thousands.
      return value === null
        ? []
        : [
            {
              fromMs,
              toMs: Math.min(fromMs + HOUR_MS, toMs),
              low: value.low,
              mean: value.mean,
              high: value.high,
            },
          ];
    }),
  );
  return heard.length === 1 ? heard[0]! : merged(heard.flat());
}

function merged(pieces: readonly Piece[]): Course {
  const hours = new Map<number, { count: number; piece: Piece }>();
  for (const one of pieces) {
    const before = hours.get(one.fromMs);
    if (before === undefined) {
      hours.set(one.fromMs, { count: 1, piece: one });
      continue;
    }
    const { count, piece } = before;
    hours.set(one.fromMs, {
      count: count + 1,
      piece: {
        ...piece,
        low: Math.min(piece.low, one.low),
        mean: (piece.mean * count + one.mean) / (count + 1),
        high: Math.max(piece.high, one.high),
      },
    });
  }
  return [...hours.values()].map(({ piece }) => piece).sort((a, b) => a.fromMs - b.fromMs);
}
