import type { Corrector } from "../../sensors/corrector.js";
import { humidityFault, temperatureFault } from "../../shared/fault-value.js";
import { probeNoOfKey, takenAtMsOfKey } from "./keys.js";
import type { ProbeNumbers } from "./probe-numbers.js";
import type { ReadingRow } from "./readings.js";

const MILLI = 1_000;
const CENTI = 100;

/**
 * Makes of rows as measured what hours and days count: corrected, without what cannot have been
 * measured and without what a probe said while it was not in its place. Such a reading still
 * counts as heard.
 */
export function openCounting(corrector: Corrector, probes: Pick<ProbeNumbers, "idOf">) {
  const counted = (row: ReadingRow): ReadingRow => {
    const before = {
      probeId: probes.idOf(probeNoOfKey(row.key)),
      takenAtMs: takenAtMsOfKey(row.key),
      temperatureC: row.milliC === null ? null : row.milliC / MILLI,
      humidityPct: row.centiPct === null ? null : row.centiPct / CENTI,
    };
    const { temperatureC, humidityPct } = corrector.correct(before);
    const hasWarmth = temperatureC !== null && temperatureFault(temperatureC) === null;
    const hasWater = humidityPct !== null && humidityFault(humidityPct) === null;
    return {
      key: row.key,
      milliC: hasWarmth ? Math.round(temperatureC * MILLI) : null,
      centiPct: hasWater ? Math.round(humidityPct * CENTI) : null,
    };
  };
  return function* count(rows: Iterable<ReadingRow>): IterableIterator<ReadingRow> {
    for (const row of rows) yield counted(row);
  };
}
