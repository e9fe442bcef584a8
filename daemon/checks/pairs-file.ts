import { parseDecimal } from "../../sensors/decimal.js";
import type { Quantity } from "../../shared/check.js";
import { KnownError } from "../../shared/errors.js";
import { parseRfc3339 } from "../../shared/rfc3339.js";
import { toCelsius } from "../../shared/units.js";
import { readCsvRecords } from "../cli/replay/csv-records.js";
import { stepAsTyped } from "./typed-number.js";

/** A pair as somebody wrote it down. */
type TypedPair = Readonly<{
  atMs: number | null;
  probe: number;
  /** What the reference showed; null where the file leaves that to the reference. */
  shown: number | null;
}>;

/** What a file of pairs held, in °C or %RH. */
export type PairsFile = Readonly<{
  quantity: Quantity;
  pairs: readonly TypedPair[];
  /** The finest step in which each column is written. */
  steps: Readonly<{ probe: number; reference: number | null }>;
}>;

type Unit = Readonly<{ suffix: string; quantity: Quantity; toOurs(value: number): number }>;

const SAME = (value: number): number => value;
const UNITS: readonly Unit[] = [
  { suffix: "c", quantity: "temperature", toOurs: SAME },
  { suffix: "f", quantity: "temperature", toOurs: (value) => toCelsius(value, "F") },
  { suffix: "pct", quantity: "humidity", toOurs: SAME },
];
const EXPECTED = "probe_c,reference_c (or _f, or _pct), and time where it is known";
const MOST_FAULTS = 20;
/** No check has more, and a file of readings given by mistake should say so at once. */
const MOST_PAIRS = 1_000;

type Header = Readonly<{
  unit: Unit;
  probe: number;
  reference: number;
  time: number;
  width: number;
}>;
type Texts = { probe: string[]; reference: string[] };

/**
 * Read pairs from a CSV (RFC 4180) with the columns `probe_c` and `reference_c`, or the same in
 * `_f` or `_pct`, in any order, and `time` (RFC 3339) where there is one.
 *
 * @throws {KnownError} PAIRS_FAULTY naming each bad line at once
 */
export async function readPairsFile(file: string): Promise<PairsFile> {
  const faults: string[] = [];
  const pairs: TypedPair[] = [];
  const texts: Texts = { probe: [], reference: [] };
  let header: Header | null = null;
  const fault = (line: number, reason: string) => faults.push(`line ${line}: ${reason}`);
  const record = (cells: readonly string[], line: number) => {
    if (header === null) {
      header = readHeader(cells, file);
      return;
    }
    const pair = readPair(cells, header, texts);
    if (typeof pair === "string") fault(line, pair);
    else pairs.push(pair);
  };
  try {
    await readCsvRecords(file, { record, fault });
  } catch (cause) {
    if (cause instanceof KnownError) throw cause;
    throw new KnownError("PAIRS_FAULTY", `reading ${file}: ${(cause as Error).message}`, { cause });
  }
  const { unit } = header ?? readHeader([], file);
  complain(file, faults, pairs.length);
  // A step of a degree Fahrenheit is smaller than one of a degree Celsius.
  const stepOf = (column: readonly string[]): number =>
    stepAsTyped(column) * (unit.toOurs(1) - unit.toOurs(0));
  const reference = texts.reference.length === 0 ? null : stepOf(texts.reference);
  return { quantity: unit.quantity, pairs, steps: { probe: stepOf(texts.probe), reference } };
}

function complain(file: string, faults: readonly string[], pairs: number): void {
  if (faults.length > 0) {
    const rest = faults.length - MOST_FAULTS;
    const more = rest > 0 ? [`and ${rest} more`] : [];
    const list = [...faults.slice(0, MOST_FAULTS), ...more].map((line) => `  ${line}`).join("\n");
    throw new KnownError("PAIRS_FAULTY", `${file} has bad lines, nothing was kept\n${list}`);
  }
  if (pairs > MOST_PAIRS)
    throw new KnownError(
      "PAIRS_FAULTY",
      `${file} has ${pairs} pairs, expected ${MOST_PAIRS} at most`,
    );
}

function readHeader(cells: readonly string[], file: string): Header {
  const names = cells.map((cell) => cell.trim().toLowerCase());
  for (const unit of UNITS) {
    const probe = names.indexOf(`probe_${unit.suffix}`);
    const reference = names.indexOf(`reference_${unit.suffix}`);
    if (probe < 0) continue;
    return { unit, probe, reference, time: names.indexOf("time"), width: cells.length };
  }
  const first = cells.length === 0 ? "is empty" : `begins with "${cells.join(",").slice(0, 80)}"`;
  throw new KnownError("PAIRS_FAULTY", `${file} ${first}, expected columns ${EXPECTED}`);
}

function readPair(cells: readonly string[], header: Header, texts: Texts): TypedPair | string {
  const { unit, width } = header;
  if (cells.length !== width)
    return `${cells.length} cells, expected ${width} as in the first line`;
  const cell = (column: number): string => (column < 0 ? "" : cells[column]!.trim());
  const [probeText, shownText, time] = [header.probe, header.reference, header.time].map(cell);
  const probe = parseDecimal(probeText!);
  if (probe === null) return `probe "${probeText!.slice(0, 40)}", expected a number`;
  const shown = shownText === "" ? null : parseDecimal(shownText!);
  if (shown === null && shownText !== "")
    return `reference "${shownText!.slice(0, 40)}", expected a number or nothing`;
  const atMs = time === "" ? null : parseRfc3339(time!);
  if (atMs === null && time !== "")
    return `time "${time!.slice(0, 40)}", expected RFC 3339, for example 2026-10-11T15:00:00Z`;
  texts.probe.push(probeText!);
  if (shown !== null) texts.reference.push(shownText!);
  return { atMs, probe: unit.toOurs(probe), shown: shown === null ? null : unit.toOurs(shown) };
}
