import { join } from "node:path";
import Database from "better-sqlite3";
import { openStore, type Store } from "../../../daemon/store/store.js";
import { draw, seeded } from "../../../sensors/simulated/seeded.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { inFolder, PROBES, SITE, START_MS } from "./bench-folder.js";

/** Print how long a season takes to read from rollups and from raw readings. */
export function benchSeason(): void {
  inFolder((folder) => {
    const store = openStore(folder, SITE);
    const rows = fillSeason(store);
    const endMs = START_MS + 180 * DAY_MS;
    const [rollupMs, days] = timed(() =>
      PROBES.map(({ id }) => store.rollups.days(id, START_MS, endMs)),
    );
    const [hoursMs] = timed(() => PROBES.map(({ id }) => store.rollups.hours(id, START_MS, endMs)));
    store.close();
    const db = new Database(join(folder, "drowse.db"), { readonly: true });
    const aggregate = db.prepare<[number, number], { count: number }>(`
      SELECT probe_no, taken_at_ms / ${DAY_MS} AS day, count(*) AS count,
        avg(temperature_milli_c), min(temperature_milli_c), max(temperature_milli_c),
        avg(humidity_centi_pct), min(humidity_centi_pct), max(humidity_centi_pct)
      FROM reading WHERE taken_at_ms >= ? AND taken_at_ms < ? GROUP BY 1, 2`);
    const [rawMs, raw] = timed(() => aggregate.all(START_MS, endMs));
    db.close();
    const counted = days.flat().reduce((sum, { count }) => sum + count, 0);
    if (counted !== rows || raw.length !== days.flat().length)
      throw new Error(`rollups hold ${counted} of ${rows} readings`);
    console.log(`store: 180 days of 6 probes, one reading a minute, ${rows} rows`);
    console.log(`days from rollups     ${rollupMs.toFixed(1).padStart(8)} ms`);
    console.log(`hours from rollups    ${hoursMs.toFixed(1).padStart(8)} ms`);
    console.log(`days from raw rows    ${rawMs.toFixed(1).padStart(8)} ms`);
    console.log(`raw / rollups         ${(rawMs / rollupMs).toFixed(0).padStart(8)} ×`);
  });
}

/** In commits of six hours: how readings are grouped does not matter to the reader. */
function fillSeason(store: Store): number {
  const random = seeded(2, "season");
  let rows = 0;
  const [ms] = timed(() => {
    for (let hour = 0; hour < 180 * 24; hour += 6) {
      const readings = PROBES.flatMap(({ id: probeId }) =>
        Array.from({ length: 360 }, (_, minute) => ({
          probeId,
          takenAtMs: START_MS + hour * HOUR_MS + minute * MINUTE_MS,
          temperatureC: Math.round(1_500 + 2_000 * draw(random)) / 1_000,
          humidityPct: Math.round(6_000 + 1_000 * draw(random)) / 100,
        })),
      );
      store.commit({ readings, findings: [], letters: [], judge: null, heard: [] }, []);
      rows += readings.length;
    }
  });
  const rate = Math.round((rows / ms) * 1_000).toLocaleString("en-GB");
  console.log(`store: ${rate} readings/s in commits of 2,160`);
  return rows;
}

function timed<T>(work: () => T): [ms: number, result: T] {
  const fromMs = performance.now();
  const result = work();
  return [performance.now() - fromMs, result];
}
