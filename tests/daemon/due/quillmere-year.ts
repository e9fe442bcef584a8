import type { YearConfig } from "../../../daemon/due/gather-due.js";
import { openDraft } from "../../../daemon/journal/draft.js";
import type { Typed } from "../../../daemon/journal/fields.js";
import { cocoonSeriesId, type Probe } from "../../../shared/site.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { YEAR_RULES } from "../../year-rules.js";
import { commitReadings, openedStore, temporaryFolder } from "../store/temporary-store.js";

const BAND = { bandC: { low: 1.1, high: 3.3 }, humidityBandPct: { low: 60, high: 70 } };
const YARD: Probe = { id: "yard", chamberId: null, place: "outdoors", intervalMs: 600_000 };

export const YEAR_CONFIG: YearConfig = {
  site: {
    name: "Quillmere",
    timezone: "Europe/London",
    chambers: [{ id: "shed", species: "osmia-bicornis", ...BAND, cocoonLagMs: null }],
    probes: [{ id: "shed-air", chamberId: "shed", place: "air", intervalMs: 60_000 }, YARD],
  },
  ...YEAR_RULES,
};

/** A winter at Quillmere in a store of its own. */
export function openYear() {
  const store = openedStore(temporaryFolder());
  const { site } = YEAR_CONFIG;
  return {
    store,
    /** Write into the journal as a keeper would have at `nowMs`. */
    write: (nowMs: number, lots: readonly Typed[], entries: readonly Typed[]) =>
      store.journal.write(nowMs, (journal) => {
        const draft = openDraft(site, journal, nowMs);
        const faults = [...lots.map(draft.addLot), ...entries.map(draft.addEntry)];
        const wrong = faults.filter((fault) => fault !== null);
        if (wrong.length > 0) throw new Error(JSON.stringify(wrong));
        return draft.batch();
      }),
    /** Cocoons of the shed at one temperature, hour by hour. */
    cocoons: (fromMs: number, toMs: number, temperatureC: number) => {
      const hours = Math.floor((toMs - fromMs) / HOUR_MS);
      commitReadings(
        store,
        Array.from({ length: hours }, (_, i) => ({
          probeId: cocoonSeriesId("shed"),
          takenAtMs: fromMs + i * HOUR_MS,
          temperatureC,
          humidityPct: null,
        })),
      );
    },
    /** One reading at noon of each day outdoors, from a day on. */
    outdoors: (fromMs: number, ...highsC: readonly number[]) =>
      commitReadings(
        store,
        highsC.map((temperatureC, i) => ({
          probeId: YARD.id,
          takenAtMs: fromMs + i * DAY_MS + 12 * HOUR_MS,
          temperatureC,
          humidityPct: null,
        })),
      ),
  };
}
