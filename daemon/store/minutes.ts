import type { Database } from "better-sqlite3";
import type { Reading } from "../../shared/reading.js";
import { MINUTE_MS } from "../../shared/time.js";
import type { Checks } from "./checks.js";
import { firstReadingKeyAt, rowKey, takenAtMsOfKey } from "./keys.js";
import type { ProbeNumbers } from "./probe-numbers.js";
import type { Rollup } from "./records.js";

/** How long a stretch is: a day has 720, about as many as a picture of it has pixels. */
export const MINUTES_MS = 2 * MINUTE_MS;

type Cells = [
  firstKey: number,
  count: number,
  warmths: number,
  meanMilliC: number | null,
  lowMilliC: number | null,
  highMilliC: number | null,
  waters: number,
  meanCentiPct: number | null,
  lowCentiPct: number | null,
  highCentiPct: number | null,
];

// What cannot have been measured, as `shared/fault-value.ts` has it, counts as heard alone.
const WARMTH =
  "CASE WHEN temperature_milli_c BETWEEN -70000 AND 70000 THEN temperature_milli_c END";
const WATER =
  "CASE WHEN humidity_centi_pct > 0 AND humidity_centi_pct <= 10500 THEN humidity_centi_pct END";

/**
 * One probe in stretches of two minutes, summed from its raw readings each time it is asked.
 *
 * What is summed is corrected, not what is measured: a correction is a line, which keeps means and
 * extremes. Only where it begins within a stretch that one is corrected whole.
 */
export function openMinutes(db: Database, probes: Pick<ProbeNumbers, "idOf">, checks: Checks) {
  // The length is written out: a number that is bound is no integer, and divides as such.
  const sum = db
    .prepare<[number, number, number], Cells>(`
    SELECT min(key), count(*),
      count(warmth), avg(warmth), min(warmth), max(warmth),
      count(water), avg(water), min(water), max(water)
    FROM (SELECT key, ${WARMTH} AS warmth, ${WATER} AS water
      FROM reading WHERE key >= ? AND key < ? AND key & 1023 = ?)
    GROUP BY key / ${rowKey(MINUTES_MS, 0)} ORDER BY key`)
    .raw();

  /** Stretches that begin at even minutes, in [fromMs, toMs), oldest first. */
  return (probeNo: number, fromMs: number, toMs: number): Rollup[] => {
    const probeId = probes.idOf(probeNo);
    const corrector = checks.corrector();
    const rows = sum.all(firstReadingKeyAt(fromMs), firstReadingKeyAt(toMs), probeNo);
    return rows.map((cells): Rollup => {
      const takenAtMs = takenAtMsOfKey(cells[0]);
      const correct = (milliC: number | null, centiPct: number | null): Reading =>
        corrector.correct({
          probeId,
          takenAtMs,
          temperatureC: milliC === null ? null : milliC / 1_000,
          humidityPct: centiPct === null ? null : centiPct / 100,
        });
      const mean = correct(cells[3], cells[7]);
      const low = correct(cells[4], cells[8]);
      const high = correct(cells[5], cells[9]);
      return {
        probeId,
        fromMs: takenAtMs,
        count: cells[1],
        temperature:
          mean.temperatureC === null || low.temperatureC === null || high.temperatureC === null
            ? null
            : {
                count: cells[2],
                meanC: mean.temperatureC,
                lowC: low.temperatureC,
                highC: high.temperatureC,
              },
        humidity:
          mean.humidityPct === null || low.humidityPct === null || high.humidityPct === null
            ? null
            : {
                count: cells[6],
                meanPct: mean.humidityPct,
                lowPct: low.humidityPct,
                highPct: high.humidityPct,
              },
      };
    });
  };
}
