import { relativeHumidityPct, vapourPressureHpa } from "../../rules/humid-air.js";
import type { CocoonHour } from "../../rules/year/lot-season.js";
import { cocoonSeriesId, type Site } from "../../shared/site.js";
import { HOUR_MS } from "../../shared/time.js";
import type { Rollup, Store } from "../store/store.js";

/**
 * The hours of a chamber's cocoons in [fromMs, toMs), oldest first, as the judge felt them. Their
 * humidity is that of the series where it has one, otherwise that of a probe in a box or in the
 * air, brought to the temperature of the cocoons.
 */
export function cocoonHours(
  store: Pick<Store, "rollups">,
  site: Pick<Site, "probes">,
  chamberId: string,
  fromMs: number,
  toMs: number,
): CocoonHour[] {
  const hours = (id: string) => store.rollups.hours(id, fromMs, toMs);
  const series = hours(cocoonSeriesId(chamberId));
  // Most series have their own humidity, and a season of two more probes takes its time.
  const isDry = series.some(({ humidity }) => humidity === null);
  const humid = isDry ? humidHours(site, chamberId, hours) : new Map<number, Rollup>();
  const found: CocoonHour[] = [];
  // A loop, since a season has thousands.
  for (const { temperature, humidity, fromMs: hourMs } of series) {
    if (temperature === null) continue;
    const { meanC, lowC, highC } = temperature;
    const humidityPct = humidity?.meanPct ?? humidityAt(meanC, humid.get(hourMs));
    const toMs = hourMs + HOUR_MS;
    found.push({ chamberId, fromMs: hourMs, toMs, meanC, lowC, highC, humidityPct });
  }
  return found;
}

function humidHours(
  { probes }: Pick<Site, "probes">,
  chamberId: string,
  hours: (id: string) => readonly Rollup[],
): Map<number, Rollup> {
  const humid = new Map<number, Rollup>();
  for (const place of ["air", "box"])
    for (const { id } of probes.filter(
      (probe) => probe.chamberId === chamberId && probe.place === place,
    ))
      for (const hour of hours(id))
        if (hour.humidity !== null && hour.temperature !== null) humid.set(hour.fromMs, hour);
  return humid;
}

function humidityAt(cocoonC: number, hour: Rollup | undefined): number | null {
  if (!hour?.temperature || !hour.humidity) return null;
  const hpa = vapourPressureHpa(hour.temperature.meanC, hour.humidity.meanPct);
  return relativeHumidityPct(hpa, cocoonC);
}
