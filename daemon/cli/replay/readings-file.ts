import { parseDecimal } from "../../../sensors/decimal.js";
import { checkPlausible } from "../../../sensors/plausible.js";
import { KnownError } from "../../../shared/errors.js";
import type { Reading } from "../../../shared/reading.js";
import { parseRfc3339 } from "../../../shared/rfc3339.js";
import { readCsvRecords } from "./csv-records.js";
import { openReadingRows, type ReadingRows } from "./reading-rows.js";

const COLUMNS = ["time", "probe", "temperature_c", "humidity_pct"] as const;

/** Where the columns stand in a row; -1 for one that the file does not have. */
type Header = Readonly<{ [column in (typeof COLUMNS)[number]]: number } & { width: number }>;

/** What a CSV of readings held. */
export type ReadingsFile = Readonly<{
  rows: ReadingRows;
  /** Rows of probes that the config does not know, by the name in the file. */
  strangers: ReadonlyMap<string, number>;
  /** Values that no probe can have measured, left out as intake leaves them out. */
  implausible: number;
  /** What is wrong, line by line: the first 20, and how many there are. */
  faults: readonly string[];
  faultCount: number;
}>;

const MOST_FAULTS = 20;
const MOST_STRANGERS = 100;

/**
 * Read a CSV with the columns time, probe, temperature_c and humidity_pct, in any order.
 *
 * A bad line is a fault named by its number; reading goes on, so that all are named at once.
 *
 * @throws {KnownError} REPLAY_FAULTY when the file cannot be read or has no such columns
 */
export async function readReadingsFile(
  file: string,
  probeIds: readonly string[],
): Promise<ReadingsFile> {
  const rows = openReadingRows(probeIds);
  const known = new Set(probeIds);
  const strangers = new Map<string, number>();
  const faults: string[] = [];
  let faultCount = 0;
  let implausible = 0;
  let header: Header | null = null;
  const toReading = openRowReader();
  const fault = (line: number, reason: string) => {
    faultCount += 1;
    if (faults.length < MOST_FAULTS) faults.push(`line ${line}: ${reason}`);
  };
  const record = (cells: readonly string[], line: number) => {
    if (header === null) {
      header = readHeader(cells, file);
      return;
    }
    const reading = toReading(cells, header);
    if (typeof reading === "string") fault(line, reading);
    else if (!known.has(reading.probeId)) countStranger(strangers, reading.probeId);
    else {
      const { measurement, faults: unlikely } = checkPlausible({ ...reading, time: null });
      implausible += unlikely.length;
      // A row of two empty cells is no reading.
      if (measurement.temperatureC !== null || measurement.humidityPct !== null)
        rows.add({
          ...reading,
          temperatureC: measurement.temperatureC,
          humidityPct: measurement.humidityPct,
        });
    }
  };
  try {
    await readCsvRecords(file, { record, fault });
  } catch (cause) {
    if (cause instanceof KnownError) throw cause;
    const { message } = cause as Error;
    throw new KnownError("REPLAY_FAULTY", `reading ${file}: ${message}`, { cause });
  }
  if (header === null) readHeader([], file);
  return { rows, strangers, implausible, faults, faultCount };
}

function readHeader(cells: readonly string[], file: string): Header {
  const names = cells.map((cell) => cell.trim().toLowerCase());
  const at = (name: string) => names.indexOf(name);
  const header: Header = {
    time: at("time"),
    probe: at("probe"),
    temperature_c: at("temperature_c"),
    humidity_pct: at("humidity_pct"),
    width: cells.length,
  };
  if (
    header.time >= 0 &&
    header.probe >= 0 &&
    (header.temperature_c >= 0 || header.humidity_pct >= 0)
  )
    return header;
  const first = cells.length === 0 ? "is empty" : `begins with "${cells.join(",").slice(0, 80)}"`;
  throw new KnownError("REPLAY_FAULTY", `${file} ${first}, expected the line ${COLUMNS.join(",")}`);
}

/** Reads a row, or says what is wrong with it. */
function openRowReader(): (cells: readonly string[], header: Header) => Reading | string {
  // Several probes of one instant stand together, so the last time is often this one too.
  let lastText = "";
  let lastMs: number | null = null;
  return (cells, header) => {
    if (cells.length !== header.width)
      return `${cells.length} cells, expected ${header.width} as in the first line`;
    const time = cells[header.time]!.trim();
    if (time !== lastText) [lastText, lastMs] = [time, parseRfc3339(time)];
    if (lastMs === null)
      return `time "${time.slice(0, 40)}", expected RFC 3339, for example 2026-01-11T03:15:00Z`;
    const temperatureC = readCell(cells[header.temperature_c]);
    if (temperatureC === undefined)
      return `temperature_c "${cells[header.temperature_c]?.slice(0, 40)}", expected a number or nothing`;
    const humidityPct = readCell(cells[header.humidity_pct]);
    if (humidityPct === undefined)
      return `humidity_pct "${cells[header.humidity_pct]?.slice(0, 40)}", expected a number or nothing`;
    const probeId = cells[header.probe]!.trim();
    if (probeId === "") return "no probe, expected the id of one";
    return { probeId, takenAtMs: lastMs, temperatureC, humidityPct };
  };
}

/** null for an empty cell, undefined for one that holds no number. */
function readCell(cell: string | undefined): number | null | undefined {
  if (cell === undefined || cell.trim() === "") return null;
  return parseDecimal(cell) ?? undefined;
}

function countStranger(strangers: Map<string, number>, probeId: string): void {
  if (strangers.has(probeId) || strangers.size < MOST_STRANGERS)
    strangers.set(probeId, (strangers.get(probeId) ?? 0) + 1);
}
