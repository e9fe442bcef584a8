import type { ReadingRow } from "./readings.js";
import type { Rollup } from "./records.js";

/** Readings of one probe over one span, in whole numbers so that sums are exact in any order. */
export type Tally = Readonly<{
  readings: number;
  temperatures: number;
  temperatureSum: number;
  temperatureLow: number | null;
  temperatureHigh: number | null;
  humidities: number;
  humiditySum: number;
  humidityLow: number | null;
  humidityHigh: number | null;
}>;

/** A tally that readings are still added to. */
export type OpenTally = { -readonly [Key in keyof Tally]: Tally[Key] };

/** The tally of a single reading. */
export function tallyOf({ milliC, centiPct }: ReadingRow): OpenTally {
  return {
    readings: 1,
    temperatures: milliC === null ? 0 : 1,
    temperatureSum: milliC ?? 0,
    temperatureLow: milliC,
    temperatureHigh: milliC,
    humidities: centiPct === null ? 0 : 1,
    humiditySum: centiPct ?? 0,
    humidityLow: centiPct,
    humidityHigh: centiPct,
  };
}

/** Add one reading, in place: an hour of a flood has thousands. */
export function addReading(tally: OpenTally, { milliC, centiPct }: ReadingRow): void {
  tally.readings += 1;
  if (milliC !== null) {
    tally.temperatures += 1;
    tally.temperatureSum += milliC;
    tally.temperatureLow = Math.min(tally.temperatureLow ?? milliC, milliC);
    tally.temperatureHigh = Math.max(tally.temperatureHigh ?? milliC, milliC);
  }
  if (centiPct !== null) {
    tally.humidities += 1;
    tally.humiditySum += centiPct;
    tally.humidityLow = Math.min(tally.humidityLow ?? centiPct, centiPct);
    tally.humidityHigh = Math.max(tally.humidityHigh ?? centiPct, centiPct);
  }
}

/** Both taken together; the order does not matter. */
export function mergeTallies(a: Tally, b: Tally): Tally {
  return {
    readings: a.readings + b.readings,
    temperatures: a.temperatures + b.temperatures,
    temperatureSum: a.temperatureSum + b.temperatureSum,
    temperatureLow: pick(Math.min, a.temperatureLow, b.temperatureLow),
    temperatureHigh: pick(Math.max, a.temperatureHigh, b.temperatureHigh),
    humidities: a.humidities + b.humidities,
    humiditySum: a.humiditySum + b.humiditySum,
    humidityLow: pick(Math.min, a.humidityLow, b.humidityLow),
    humidityHigh: pick(Math.max, a.humidityHigh, b.humidityHigh),
  };
}

/** A tally in °C and %RH. */
export function toRollup(probeId: string, fromMs: number, tally: Tally): Rollup {
  const { temperatures, temperatureLow, temperatureHigh } = tally;
  const { humidities, humidityLow, humidityHigh } = tally;
  return {
    probeId,
    fromMs,
    count: tally.readings,
    temperature:
      temperatureLow === null || temperatureHigh === null
        ? null
        : {
            count: temperatures,
            meanC: tally.temperatureSum / temperatures / 1_000,
            lowC: temperatureLow / 1_000,
            highC: temperatureHigh / 1_000,
          },
    humidity:
      humidityLow === null || humidityHigh === null
        ? null
        : {
            count: humidities,
            meanPct: tally.humiditySum / humidities / 100,
            lowPct: humidityLow / 100,
            highPct: humidityHigh / 100,
          },
  };
}

function pick(
  choose: (a: number, b: number) => number,
  a: number | null,
  b: number | null,
): number | null {
  return a === null ? b : b === null ? a : choose(a, b);
}
