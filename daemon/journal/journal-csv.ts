import { stringify } from "csv-stringify/sync";
import type { Entry, Lot } from "../../shared/journal.js";
import { readCsvRecords } from "../cli/replay/csv-records.js";
import { ENTRY_COLUMNS, entryFields, LOT_COLUMNS, lotFields } from "./columns.js";
import type { Draft } from "./draft.js";
import type { Faults, Typed } from "./fields.js";

/** One record of a CSV, by the names in its first line. */
type CsvRow = Readonly<{ line: number; typed: Typed }>;

/** A CSV as read, or what is wrong with it, line by line. */
export type CsvRows = Readonly<{ rows: readonly CsvRow[]; faults: readonly string[] }>;

/** A journal of a century; more is another kind of file. Our choice. */
const ROWS_MOST = 50_000;

/**
 * Read a CSV (RFC 4180) whose first line names its columns, in any order.
 *
 * @param columns the names it may have; others are a fault, for they are usually a typo
 * @throws what opening or reading the file throws
 */
export async function readCsvRows(file: string, columns: readonly string[]): Promise<CsvRows> {
  const rows: CsvRow[] = [];
  const faults: string[] = [];
  let names: readonly string[] | null = null;
  let isTooLong = false;
  await readCsvRecords(file, {
    fault: (line, reason) => void faults.push(`line ${line}: ${reason}`),
    record: (cells, line) => {
      if (names === null) {
        names = cells.map((cell) => cell.trim().toLowerCase());
        const fault = headFault(names, columns);
        if (fault !== null) faults.push(`line ${line}: ${fault}`);
      } else if (cells.length !== names.length)
        faults.push(
          `line ${line}: ${cells.length} cells, expected ${names.length} as in the first line`,
        );
      else if (rows.length >= ROWS_MOST) isTooLong = true;
      else
        rows.push({ line, typed: Object.fromEntries(names.map((name, i) => [name, cells[i]!])) });
    },
  });
  if (isTooLong) faults.push(`more than ${ROWS_MOST} lines`);
  if (names === null) faults.push(`it is empty, expected the line ${columns.join(",")}`);
  return { rows, faults };
}

function headFault(names: readonly string[], columns: readonly string[]): string | null {
  const stranger = names.find((name) => !columns.includes(name));
  if (stranger !== undefined)
    return `column "${stranger.slice(0, 40)}", expected some of ${columns.join(",")}`;
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  return twice === undefined ? null : `column "${twice}" twice, expected once`;
}

/** Put each row into a draft; what is wrong is named by its line, and reading goes on. */
export function draftLots({ rows }: CsvRows, draft: Draft): string[] {
  return rows.flatMap(({ line, typed }) => faultLines(line, typed, draft.addLot(typed)));
}

/**
 * The same for entries. Where the file numbers its entries, a correction names one of its own;
 * otherwise one of the journal.
 */
export function draftEntries({ rows }: CsvRows, draft: Draft): string[] {
  const numbers = new Map<string, number>();
  const isNumbered = rows.some(({ typed }) => typed.entry !== undefined);
  return rows.flatMap(({ line, typed: { entry, written: _, ...typed } }) => {
    const named = typed.corrects?.trim() ?? "";
    const corrects = isNumbered && named !== "" ? String(numbers.get(named) ?? "?") : named;
    const no = draft.nextNo();
    const faults = draft.addEntry({ ...typed, corrects });
    if (faults === null && entry !== undefined) numbers.set(entry.trim(), no);
    return faultLines(line, typed, faults);
  });
}

function faultLines(line: number, typed: Typed, faults: Faults | null): string[] {
  return Object.entries(faults ?? {}).map(
    ([name, expected]) => `line ${line}, ${faultWords(name, typed[name], expected)}`,
  );
}

/** A fault of a field in words: its name, what arrived, what was expected. */
export function faultWords(name: string, value: string | undefined, expected: string): string {
  return `${name} ${JSON.stringify((value ?? "").slice(0, 60))}: ${expected}`;
}

/** Lots as a CSV that can be read back. */
export function lotsCsv(lots: readonly Lot[]): string {
  const columns = LOT_COLUMNS.filter((name) => name !== "chamber" && name !== "in");
  return toCsv(columns, lots.map(lotFields));
}

/** The whole journal, corrected entries and all, as a CSV that can be read back. */
export function journalCsv(entries: readonly Entry[]): string {
  return toCsv(ENTRY_COLUMNS, entries.map(entryFields));
}

/** RFC 4180: CRLF, quotes where they are needed, a head line. */
function toCsv(columns: readonly string[], rows: readonly Typed[]): string {
  return stringify([...rows], { header: true, columns: [...columns], record_delimiter: "\r\n" });
}
