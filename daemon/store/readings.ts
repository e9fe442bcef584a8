import type { Database } from "better-sqlite3";
import type { Reading } from "../../shared/reading.js";
import { firstReadingKeyAt, probeNoOfKey, readingKey, takenAtMsOfKey } from "./keys.js";
import type { ProbeNumbers } from "./probe-numbers.js";

/** A reading as stored: whole thousandths of °C and hundredths of %RH. */
export type ReadingRow = Readonly<{ key: number; milliC: number | null; centiPct: number | null }>;

type RawRow = [key: number, milliC: number | null, centiPct: number | null];
const fromRaw = ([key, milliC, centiPct]: RawRow): ReadingRow => ({ key, milliC, centiPct });

// Read page by page, so that no statement stays open between two `next()` of a slow caller:
// an open one would bar this connection from writing.
const PAGE_ROWS = 2_000;
const COLUMNS = "key, temperature_milli_c AS milliC, humidity_centi_pct AS centiPct";

export type Readings = ReturnType<typeof openReadings>;

/** Statements over the `reading` table. The caller owns `db` and closes it. */
export function openReadings(db: Database, probes: ProbeNumbers) {
  // QoS 1 may deliver twice (MQTT 3.1.1, section 4.3.2): meeting a reading again is ordinary.
  // Bound by position, which takes a quarter less time than by name.
  const insert = db.prepare<[number, number | null, number | null]>(`
    INSERT INTO reading (key, temperature_milli_c, humidity_centi_pct)
    VALUES (?, ?, ?) ON CONFLICT (key) DO NOTHING`);
  const page = db.prepare<[number, number], RawRow>(`
    SELECT ${COLUMNS} FROM reading WHERE key >= ? AND key < ? ORDER BY key LIMIT ${PAGE_ROWS}`);
  const pageOfProbe = db.prepare<[number, number, number], RawRow>(`
    SELECT ${COLUMNS} FROM reading WHERE key >= ? AND key < ? AND key & 1023 = ?
    ORDER BY key LIMIT ${PAGE_ROWS}`);
  const newest = db.prepare<[number, number, number], ReadingRow>(`
    SELECT ${COLUMNS} FROM reading WHERE key >= ? AND key < ? AND key & 1023 = ?
    ORDER BY key DESC LIMIT 1`);
  const count = db.prepare<[], number>("SELECT count(*) FROM reading");
  const removeSome = db.prepare<[number]>(`
    DELETE FROM reading WHERE key IN
      (SELECT key FROM reading WHERE key < ? ORDER BY key LIMIT ${10 * PAGE_ROWS})`);
  const removeOfProbe = db.prepare<[number, number]>(
    "DELETE FROM reading WHERE key >= ? AND key & 1023 = ?",
  );
  count.pluck();
  // Made into objects here: those that better-sqlite3 makes take twice the time.
  page.raw();
  pageOfProbe.raw();

  const toReading = ({ key, milliC, centiPct }: ReadingRow): Reading => ({
    probeId: probes.idOf(probeNoOfKey(key)),
    takenAtMs: takenAtMsOfKey(key),
    temperatureC: milliC === null ? null : milliC / 1_000,
    humidityPct: centiPct === null ? null : centiPct / 100,
  });

  /** Rows of all probes in [fromMs, toMs), oldest first. */
  const rows = (fromMs: number, toMs: number) =>
    walk((from, to) => page.all(from, to).map(fromRaw), fromMs, toMs);
  /** Rows of one probe in [fromMs, toMs), oldest first. */
  const rowsOfProbe = (probeNo: number, fromMs: number, toMs: number) =>
    walk((from, to) => pageOfProbe.all(from, to, probeNo).map(fromRaw), fromMs, toMs);

  return {
    /** The row of a reading; gives its probe a number if it has none. */
    rowOf: (reading: Reading): ReadingRow => toRow(reading, probes.given(reading.probeId)),
    /** @returns false when this reading was already stored */
    add: ({ key, milliC, centiPct }: ReadingRow): boolean =>
      insert.run(key, milliC, centiPct).changes === 1,
    rows,
    rowsOfProbe,
    *between(probeId: string, fromMs: number, toMs: number): IterableIterator<Reading> {
      const probeNo = probes.of(probeId);
      if (probeNo === null) return;
      for (const row of rowsOfProbe(probeNo, fromMs, toMs)) yield toReading(row);
    },
    *allBetween(fromMs: number, toMs: number): IterableIterator<Reading> {
      for (const row of rows(fromMs, toMs)) yield toReading(row);
    },
    /** The newest reading of a probe in [fromMs, toMs). */
    newest(probeId: string, fromMs: number, toMs: number): Reading | null {
      const probeNo = probes.of(probeId);
      if (probeNo === null) return null;
      const row = newest.get(firstReadingKeyAt(fromMs), firstReadingKeyAt(toMs), probeNo);
      return row ? toReading(row) : null;
    },
    count: (): number => count.get()!,
    /** Forget all rows of one probe from an instant on; for series that are reckoned. */
    removeOf(probeId: string, fromMs: number): void {
      const probeNo = probes.of(probeId);
      if (probeNo !== null) removeOfProbe.run(firstReadingKeyAt(fromMs), probeNo);
    },
    /** Forget up to 20,000 of the oldest rows before an instant. @returns how many went */
    removeSome: (beforeMs: number): number => removeSome.run(firstReadingKeyAt(beforeMs)).changes,
  };
}

function toRow({ probeId, takenAtMs, temperatureC, humidityPct }: Reading, probeNo: number) {
  if (temperatureC === null && humidityPct === null)
    throw new RangeError(`a reading of ${probeId} has neither temperature nor humidity`);
  return {
    key: readingKey(takenAtMs, probeNo),
    milliC: whole(temperatureC, 1_000),
    centiPct: whole(humidityPct, 100),
  };
}

function whole(value: number | null, parts: number): number | null {
  if (value === null) return null;
  // Far beyond any sensor, and still exact when a season of them is summed.
  if (!(Math.abs(value) <= 1e6)) throw new RangeError(`${value} is no reading`);
  return Math.round(value * parts);
}

function* walk(
  page: (fromKey: number, toKey: number) => ReadingRow[],
  fromMs: number,
  toMs: number,
): IterableIterator<ReadingRow> {
  const endKey = firstReadingKeyAt(toMs);
  let fromKey = firstReadingKeyAt(fromMs);
  while (fromKey < endKey) {
    const rows = page(fromKey, endKey);
    yield* rows;
    if (rows.length < PAGE_ROWS) return;
    fromKey = rows.at(-1)!.key + 1;
  }
}
