import { KnownError } from "../../shared/errors.js";
import type { Entry } from "../../shared/journal.js";
import { loadConfig } from "../config.js";
import type { Draft } from "../journal/draft.js";
import type { Faults, Typed } from "../journal/fields.js";
import { type CsvRows, faultWords, readCsvRows } from "../journal/journal-csv.js";
import { writeJournal } from "../journal/write-journal.js";
import { siteClock } from "../rehearsal/fast-clock.js";
import { openStore, type Store } from "../store/store.js";

/** Options of a command that writes into the journal, as commander gives them. */
export type WriteOptions = Readonly<Record<string, string | boolean | undefined>>;

/** What became of a write: the entries it added, and how many lots. */
export type Written = Readonly<{ entries: readonly Entry[]; lots: number }>;

const FAULTS_SHOWN = 20;

/** Options as typed fields: `massG` stands for `mass_g`. */
export function typedFrom(options: WriteOptions, more: Typed = {}): Typed {
  const texts = Object.entries(options).flatMap(([name, value]) =>
    typeof value === "string"
      ? [[name.replace(/[A-Z]/g, (c) => `_${c.toLowerCase()}`), value] as const]
      : [],
  );
  return { ...Object.fromEntries(texts), ...more };
}

/** Work on the store beside whatever keeps it, at the time that goes with it. */
export async function withJournal<T>(
  configFile: string,
  work: (store: Store, config: ReturnType<typeof loadConfig>, nowMs: number) => T | Promise<T>,
): Promise<T> {
  const config = loadConfig(configFile, { readSecrets: false });
  const store = openStore(config.store.folder, config.site, { mode: "look" });
  try {
    return await work(store, config, siteClock(config.store.folder).nowMs());
  } finally {
    store.close();
  }
}

function write(
  configFile: string,
  fill: (draft: Draft) => readonly string[],
  refuse: (faults: readonly string[]) => KnownError,
): Promise<Written> {
  return withJournal(configFile, (store, { site }, nowMs) => {
    const wrote = writeJournal(store, site, nowMs, (draft) => {
      const faults = fill(draft);
      return faults.length > 0 ? faults : null;
    });
    if ("wrong" in wrote) throw refuse(wrote.wrong);
    const { numbers, lots } = wrote;
    const entries = store.journal.soFar().entries.filter(({ no }) => numbers.includes(no));
    return { entries, lots };
  });
}

/**
 * Write one thing that was typed.
 *
 * @throws {KnownError} WRONG_USE, naming every option that is wrong at once
 */
export function writeTyped(
  configFile: string,
  typed: Typed,
  add: (draft: Draft, typed: Typed) => Faults | null,
): Promise<Written> {
  const fill = (draft: Draft) =>
    Object.entries(add(draft, typed) ?? {}).map(([name, expected]) =>
      faultWords(name.replace("_", "-"), typed[name], expected),
    );
  return write(configFile, fill, (faults) => new KnownError("WRONG_USE", faults.join("; ")));
}

/**
 * Write all lines of a CSV, or none.
 *
 * @throws {KnownError} JOURNAL_FAULTY, naming the first bad lines and how many there are
 */
export async function writeCsv(
  configFile: string,
  file: string,
  columns: readonly string[],
  draftRows: (rows: CsvRows, draft: Draft) => string[],
): Promise<Written> {
  const rows = await readCsvRows(file, columns).catch((cause: Error) => {
    throw new KnownError("JOURNAL_FAULTY", `reading ${file}: ${cause.message}`, { cause });
  });
  const refuse = (faults: readonly string[]): KnownError => {
    const shown = faults.slice(0, FAULTS_SHOWN).map((fault) => `  ${fault}`);
    const rest = faults.length - shown.length;
    const more = rest > 0 ? [`  and ${rest} more`] : [];
    const head = `${file} has bad lines, so nothing was written`;
    return new KnownError("JOURNAL_FAULTY", [head, ...shown, ...more].join("\n"));
  };
  if (rows.faults.length > 0) throw refuse(rows.faults);
  return write(configFile, (draft) => draftRows(rows, draft), refuse);
}
