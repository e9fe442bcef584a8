import type { Entry } from "../../shared/journal.js";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import type { Site } from "../../shared/site.js";
import { ENTRY_COLUMNS } from "../journal/columns.js";
import { actWords, cautionsFor } from "../journal/entry-words.js";
import { draftEntries, journalCsv } from "../journal/journal-csv.js";
import { oneLine } from "../letters/one-line.js";
import { clockWords, dateWords } from "../letters/time-words.js";
import {
  typedFrom,
  type WriteOptions,
  withJournal,
  writeCsv,
  writeTyped,
} from "./journal-write.js";
import { readMoment } from "./moment.js";
import { layTable } from "./table.js";

type Options = WriteOptions & Readonly<{ json?: boolean; csv?: boolean; fromCsv?: string }>;

/**
 * Write what was done into the journal, or print the journal where no deed is named.
 *
 * @throws {KnownError} WRONG_USE, or JOURNAL_FAULTY for a CSV with bad lines
 */
export async function tend(
  configFile: string,
  deed: string | undefined,
  chamber: string | undefined,
  options: Options,
): Promise<void> {
  const { json, csv, fromCsv, from, to, ...said } = options;
  if (fromCsv !== undefined) {
    const { entries } = await writeCsv(configFile, fromCsv, ENTRY_COLUMNS, draftEntries);
    if (json !== true) process.stdout.write(`Entries written: ${entries.length}.\n\n`);
    return tellWritten(configFile, entries, json === true);
  }
  if (deed === undefined && options.corrects === undefined)
    return show(configFile, options as Options & Range);
  const place = { ...(deed && { deed }), ...(chamber && { chamber }) };
  const typed = typedFrom(said, place);
  const { entries } = await writeTyped(configFile, typed, (draft, all) => draft.addEntry(all));
  await tellWritten(configFile, entries, json === true);
}

/** More entries than this are only counted. */
const SHOWN_MOST = 20;

/** Say what was written, and what to take care of with it. */
export function tellWritten(
  configFile: string,
  entries: readonly Entry[],
  asJson: boolean,
): Promise<void> {
  return withJournal(configFile, (_store, { site }) => {
    const cautions = [...new Set(entries.flatMap(cautionsFor))];
    if (asJson) {
      const told = { entries: entries.map(entryJson), cautions };
      process.stdout.write(`${JSON.stringify(told)}\n`);
      return;
    }
    const shown = entries.length > SHOWN_MOST ? [] : [showEntries(entries, site)];
    const lines = [...shown, ...cautions.map((c) => `Take care: ${c}`)];
    if (lines.length > 0) process.stdout.write(`${lines.join("\n\n")}\n`);
  });
}

type Range = Readonly<{ from?: string; to?: string }>;

function show(configFile: string, { json, csv, from, to }: Options & Range): Promise<void> {
  return withJournal(configFile, (store, { site }) => {
    const fromMs = from === undefined ? 0 : readMoment(from, site);
    const toMs = to === undefined ? Number.POSITIVE_INFINITY : readMoment(to, site);
    const entries = store.journal
      .soFar()
      .entries.filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
    if (csv === true) process.stdout.write(journalCsv(entries));
    else if (json === true)
      for (const entry of entries) process.stdout.write(`${JSON.stringify(entryJson(entry))}\n`);
    else if (entries.length === 0) process.stdout.write("Nothing is written there yet.\n");
    else process.stdout.write(`${showEntries(entries, site)}\n`);
  });
}

/** An entry for a program: as it is kept, with times in RFC 3339. */
export function entryJson({ atMs, writtenAtMs, act, chamberId, lotId, ...rest }: Entry): object {
  return {
    ...rest,
    at: formatRfc3339(atMs),
    writtenAt: formatRfc3339(writtenAtMs),
    chamber: chamberId,
    lot: lotId,
    ...act,
  };
}

/** Entries as a table, oldest deed first; each that was corrected says by which. */
export function showEntries(entries: readonly Entry[], site: Pick<Site, "timezone">): string {
  const by = new Map(entries.map(({ corrects, no }) => [corrects, no]));
  const inOrder = entries.toSorted((a, b) => a.atMs - b.atMs || a.no - b.no);
  const rows = inOrder.map((entry) => {
    const { no, atMs, chamberId, lotId, words, corrects } = entry;
    const standing = by.has(no)
      ? `corrected by ${by.get(no)}`
      : corrects === null
        ? ""
        : `corrects ${corrects}`;
    return [
      String(no),
      `${dateWords(atMs, site.timezone)}, ${clockWords(atMs, site.timezone)}`,
      chamberId ?? "",
      lotId ?? "",
      actWords(entry),
      standing,
      oneLine(words, 80),
    ];
  });
  return layTable(["entry", "when", "chamber", "lot", "what", "", "words"], rows);
}
