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
  const ofProbe = db.prepare<[number, number, number], RollupRow>(`
    SELECT ${columns} FROM ${table} WHERE key >= ? AND key < ? AND key & 1023 = ? ORDER BY key`);
  const ofAll = db.prepare<[number, number], RollupRow>(
    `SELECT ${columns} FROM ${table} WHERE key >= ? AND key < ? ORDER BY key`,
  );
  const last = db.prepare<[number], number>(
    `SELECT from_minute FROM ${table} WHERE key & 1023 = ? ORDER BY key DESC LIMIT 1`,
  );
  last.pluck();
  const removeFrom = db.prepare<[number]>(`DELETE FROM ${table} WHERE key >= ?`);

  return {
    add: (row: RollupRow): void => void add.run(row),
    /** Rows of one probe that begin in [fromMs, toMs), oldest first. */
    ofProbe: (probeNo: number, fromMs: number, toMs: number): RollupRow[] =>
      ofProbe.all(minuteKey(fromMs), minuteKey(toMs), probeNo),
    /** Rows of all probes that begin in [fromMs, toMs), oldest first. */
    ofAll: (fromMs: number, toMs: number): RollupRow[] =>
      ofAll.all(minuteKey(fromMs), minuteKey(toMs)),
    /** When the newest row of a probe begins. */
    lastFromMs(probeNo: number): number | null {
      const fromMinute = last.get(probeNo);
      return fromMinute === undefined ? null : fromMinute * MINUTE_MS;
    },
    removeFrom: (fromMs: number): void => void removeFrom.run(minuteKey(fromMs)),
  };
}

const minuteKey = (atMs: number): number => firstKeyAt(atMs / MINUTE_MS);

// SQLite's two-argument min and max are null as soon as one argument is.
function extreme(choose: "min" | "max", column: string): string {
  return `coalesce(${choose}(${column}, excluded.${column}), ${column}, excluded.${column})`;
}
