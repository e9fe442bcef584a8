import type { Span } from "../../shared/site.js";
import { HOUR_MS } from "../../shared/time.js";
import type { Rollup } from "../store/records.js";

/** What hours of readings say of one quantity; shares are of the hours that were seen. */
export type HourFigures = Readonly<{
  hours: number;
  mean: number;
  low: number;
  high: number;
  /** Share of hours whose mean was inside the band, 0 to 1. */
  inBandShare: number;
  aboveShare: number;
  belowShare: number;
}>;

type Hour = Readonly<{ mean: number; low: number; high: number }>;

/** Gather several probes' hours into one value for each hour: mean of means, widest reach. */
function mergeHours(rollups: readonly Rollup[], read: (rollup: Rollup) => Hour | null): Hour[] {
  const byHour = new Map<number, Hour[]>();
  for (const rollup of rollups) {
    const hour = read(rollup);
    if (hour === null) continue;
    byHour.set(rollup.fromMs, [...(byHour.get(rollup.fromMs) ?? []), hour]);
  }
  return [...byHour.values()].map((several) => ({
    mean: several.reduce((sum, { mean }) => sum + mean, 0) / several.length,
    low: Math.min(...several.map(({ low }) => low)),
    high: Math.max(...several.map(({ high }) => high)),
  }));
}

function summarise(hours: readonly Hour[], band: Span): HourFigures | null {
  if (hours.length === 0) return null;
  const share = (isSo: (hour: Hour) => boolean): number => hours.filter(isSo).length / hours.length;
  const aboveShare = share(({ mean }) => mean > band.high);
  const belowShare = share(({ mean }) => mean < band.low);
  return {
    hours: hours.length,
    mean: hours.reduce((sum, { mean }) => sum + mean, 0) / hours.length,
    low: hours.reduce((low, hour) => Math.min(low, hour.low), Number.POSITIVE_INFINITY),
    high: hours.reduce((high, hour) => Math.max(high, hour.high), Number.NEGATIVE_INFINITY),
    inBandShare: share(({ mean }) => mean >= band.low && mean <= band.high),
    aboveShare,
    belowShare,
  };
}

/** Temperature of the hours of one chamber and place, °C; null when none was measured. */
export function temperatureFigures(rollups: readonly Rollup[], band: Span): HourFigures | null {
  const read = ({ temperature: t }: Rollup): Hour | null =>
    t === null ? null : { mean: t.meanC, low: t.lowC, high: t.highC };
  return summarise(mergeHours(rollups, read), band);
}

/** Humidity likewise, %RH. */
export function humidityFigures(rollups: readonly Rollup[], band: Span): HourFigures | null {
  const read = ({ humidity: h }: Rollup): Hour | null =>
    h === null ? null : { mean: h.meanPct, low: h.lowPct, high: h.highPct };
  return summarise(mergeHours(rollups, read), band);
}

/** A stretch of time, Unix ms, its end not in it. */
export type Stretch = Readonly<{ fromMs: number; toMs: number }>;

/** Whole hours in which no probe was heard, joined where they meet; oldest first. */
export function unseenStretches(rollups: readonly Rollup[], { fromMs, toMs }: Stretch): Stretch[] {
  const seen = new Set(rollups.map((rollup) => Math.floor(rollup.fromMs / HOUR_MS)));
  const stretches: { fromMs: number; toMs: number }[] = [];
  for (let hour = Math.ceil(fromMs / HOUR_MS); (hour + 1) * HOUR_MS <= toMs; hour++) {
    if (seen.has(hour)) continue;
    const last = stretches.at(-1);
    if (last?.toMs === hour * HOUR_MS) last.toMs += HOUR_MS;
    else stretches.push({ fromMs: hour * HOUR_MS, toMs: (hour + 1) * HOUR_MS });
  }
  return stretches;
}
