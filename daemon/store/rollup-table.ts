import type { Database } from "better-sqlite3";
import { MINUTE_MS } from "../../shared/time.js";
import { firstKeyAt } from "./keys.js";
import type { Tally } from "./tally.js";

export type RollupRow = Tally & Readonly<{ key: number }>;

/** Statements over `hour` or `day`, whose rows look the same. */
export function openRollupTable(db: Database, table: "hour" | "day") {
  const add = db.prepare<RollupRow>(`
    INSERT INTO ${table} VALUES (@key, @readings,
      @temperatures, @temperatureSum, @temperatureLow, @temperatureHigh,
      @humidities, @humiditySum, @humidityLow, @humidityHigh)
    ON CONFLICT (key) DO UPDATE SET
      readings = readings + excluded.readings,
      temperatures = temperatures + excluded.temperatures,
      temperature_sum_milli_c = temperature_sum_milli_c + excluded.temperature_sum_milli_c,
      temperature_low_milli_c = ${extreme("min", "temperature_low_milli_c")},
      temperature_high_milli_c = ${extreme("max", "temperature_high_milli_c")},
      humidities = humidities + excluded.humidities,
      humidity_sum_centi_pct = humidity_sum_centi_pct + excluded.humidity_sum_centi_pct,
      humidity_low_centi_pct = ${extreme("min", "humidity_low_centi_pct")},
      humidity_high_centi_pct = ${extreme("max", "humidity_high_centi_pct")}`);
  const columns = `key, readings, temperatures, temperature_sum_milli_c AS temperatureSum,
    temperature_low_milli_c AS temperatureLow, temperature_high_milli_c AS temperatureHigh,
    humidities, humidity_sum_centi_pct AS humiditySum,
    humidity_low_centi_pct AS humidityLow, humidity_high_centi_pct AS humidityHigh`;
  // Rows as arrays: a view reads thousands, and by name they take more than twice as long.
  const ofProbes = db
    .prepare<[number, number, string], RowCells>(`
    SELECT ${columns} FROM ${table} WHERE key >= ? AND key < ?
      AND key & 1023 IN (SELECT value FROM json_each(?)) ORDER BY key`)
    .raw();
  const ofAll = db.prepare<[number, number], RollupRow>(
    `SELECT ${columns} FROM ${table} WHERE key >= ? AND key < ? ORDER BY key`,
  );
  const last = db.prepare<[number], number>(
    `SELECT from_minute FROM ${table} WHERE key & 1023 = ? ORDER BY key DESC LIMIT 1`,
  );
  last.pluck();
  const removeFrom = db.prepare<[number]>(`DELETE FROM ${table} WHERE key >= ?`);
  const removeOfProbe = db.prepare<[number, number]>(
    `DELETE FROM ${table} WHERE key >= ? AND key & 1023 = ?`,
  );

  return {
    add: (row: RollupRow): void => void add.run(row),
    /** Rows of some probes that begin in [fromMs, toMs), oldest first. */
    ofProbes: (probeNos: readonly number[], fromMs: number, toMs: number): RollupRow[] =>
      ofProbes.all(minuteKey(fromMs), minuteKey(toMs), JSON.stringify(probeNos)).map(toRow),
    /** Rows of all probes that begin in [fromMs, toMs), oldest first. */
    ofAll: (fromMs: number, toMs: number): RollupRow[] =>
      ofAll.all(minuteKey(fromMs), minuteKey(toMs)),
    /** When the newest row of a probe begins. */
    lastFromMs(probeNo: number): number | null {
      const fromMinute = last.get(probeNo);
      return fromMinute === undefined ? null : fromMinute * MINUTE_MS;
    },
    removeFrom: (fromMs: number): void => void removeFrom.run(minuteKey(fromMs)),
    removeOfProbe: (probeNo: number, fromMs: number): void =>
      void removeOfProbe.run(minuteKey(fromMs), probeNo),
  };
}

type RowCells = [
  key: number,
  readings: number,
  temperatures: number,
  temperatureSum: number,
  temperatureLow: number | null,
  temperatureHigh: number | null,
  humidities: number,
  humiditySum: number,
  humidityLow: number | null,
  humidityHigh: number | null,
];

const toRow = (cells: RowCells): RollupRow => ({
  key: cells[0],
  readings: cells[1],
  temperatures: cells[2],
  temperatureSum: cells[3],
  temperatureLow: cells[4],
  temperatureHigh: cells[5],
  humidities: cells[6],
  humiditySum: cells[7],
  humidityLow: cells[8],
  humidityHigh: cells[9],
});

const minuteKey = (atMs: number): number => firstKeyAt(atMs / MINUTE_MS);

// SQLite's two-argument min and max are null as soon as one argument is.
function extreme(choose: "min" | "max", column: string): string {
  return `coalesce(${choose}(${column}, excluded.${column}), ${column}, excluded.${column})`;
}
