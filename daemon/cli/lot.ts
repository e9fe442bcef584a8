import { closest } from "fastest-levenshtein";
import { KnownError } from "../../shared/errors.js";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import { LOT_COLUMNS } from "../journal/columns.js";
import type { Draft } from "../journal/draft.js";
import { draftLots, lotsCsv } from "../journal/journal-csv.js";
import { type LotReport, reportLots } from "../journal/lot-report.js";
import { lotSection } from "../journal/lot-words.js";
import { oneLine } from "../letters/one-line.js";
import { setTextSection } from "../letters/set-text.js";
import { numberWords } from "../letters/temperature-words.js";
import {
  typedFrom,
  type WriteOptions,
  withJournal,
  writeCsv,
  writeTyped,
} from "./journal-write.js";
import { layTable } from "./table.js";
import { entryJson, showEntries, tellWritten } from "./tend.js";

type Options = WriteOptions & Readonly<{ json?: boolean }>;

/**
 * Enter a lot, or all lots of a CSV.
 *
 * @throws {KnownError} WRONG_USE, or JOURNAL_FAULTY for a CSV with bad lines
 */
export async function addLots(
  configFile: string,
  id: string | undefined,
  { json, fromCsv, ...facts }: Options & Readonly<{ fromCsv?: string }>,
): Promise<void> {
  const written =
    fromCsv === undefined
      ? await writeTyped(configFile, typedFrom(facts, { lot: id }), (draft, typed) =>
          draft.addLot(typed),
        )
      : await writeCsv(configFile, fromCsv, LOT_COLUMNS, draftLots);
  const { lots, entries } = written;
  if (json !== true)
    process.stdout.write(`Lots entered: ${lots}.\n${entries.length > 0 ? "\n" : ""}`);
  if (json === true || entries.length > 0) await tellWritten(configFile, entries, json === true);
}

/** Write a later version of a lot. */
export async function changeLot(configFile: string, id: string, options: Options): Promise<void> {
  const { json, ...facts } = options;
  const change = (draft: Draft, typed: ReturnType<typeof typedFrom>) => draft.changeLot(typed);
  await writeTyped(configFile, typedFrom(facts, { lot: id }), change);
  await showLot(configFile, id, options);
}

/** Write what was done to a lot into the journal. */
export async function tendLot(
  configFile: string,
  deed: string,
  id: string,
  { json, ...options }: Options,
): Promise<void> {
  const typed = typedFrom(options, { deed, lot: id });
  const { entries } = await writeTyped(configFile, typed, (draft, all) => draft.addEntry(all));
  await tellWritten(configFile, entries, json === true);
}

type ListOptions = Readonly<{ json?: boolean; csv?: boolean; all?: boolean }>;

/** Print the lots, those that are over only where asked to. */
export function listLots(configFile: string, options: ListOptions): Promise<void> {
  return withJournal(configFile, (store, { site }, nowMs) => {
    const reports = reportLots(store, site, nowMs).filter(
      ({ course }) => options.all === true || options.csv === true || course.overAtMs === null,
    );
    if (options.csv === true) process.stdout.write(lotsCsv(reports.map(({ lot }) => lot)));
    else if (options.json === true)
      for (const report of reports) process.stdout.write(`${JSON.stringify(lotJson(report))}\n`);
    else process.stdout.write(`${showLots(reports)}\n`);
  });
}

function showLots(reports: readonly LotReport[]): string {
  if (reports.length === 0) return "No lot is in store. Enter one with drowse lot add.";
  const whole = (value: number) => numberWords(value, 0);
  const rows = reports.map(({ lot, chamberId, course, coldFromOn, latestOn, season, remarks }) => [
    lot.id,
    lot.species,
    String(lot.large),
    String(lot.small),
    course.overAtMs !== null ? "over" : (chamberId ?? "out of the cold"),
    coldFromOn ?? "",
    whole(season.storedDays),
    whole(season.chillDays),
    whole(season.reserveDays),
    course.overAtMs === null ? (latestOn ?? "") : "",
    remarks.length === 0 ? "" : "see drowse lot show",
  ]);
  const head = ["lot", "species", "large", "small", "where", "cold since"];
  return layTable([...head, "days", "chill", "reserve", "sound until", ""], rows);
}

/**
 * Print all that is known of a lot.
 *
 * @throws {KnownError} WRONG_USE for one that there is not, naming the nearest
 */
export function showLot(
  configFile: string,
  id: string,
  options: Readonly<{ json?: boolean }>,
): Promise<void> {
  return withJournal(configFile, (store, { site, temperatureUnit }, nowMs) => {
    const reports = reportLots(store, site, nowMs);
    const report = reports.find(({ lot }) => lot.id === id);
    const ids = reports.map(({ lot }) => lot.id);
    const hint = ids.length === 0 ? "there is none yet" : `nearest is ${closest(id, ids)}`;
    if (report === undefined)
      throw new KnownError("WRONG_USE", `lot ${JSON.stringify(oneLine(id, 60))}: ${hint}`);
    const versions = store.journal.soFar().lots.filter((version) => version.id === id);
    if (options.json === true) {
      const written = versions.map(({ writtenAtMs, no: _, ...lot }) => ({
        ...lot,
        writtenAt: formatRfc3339(writtenAtMs),
      }));
      process.stdout.write(`${JSON.stringify({ ...lotJson(report), versions: written })}\n`);
      return;
    }
    const section = setTextSection(lotSection(report, site.timezone, temperatureUnit));
    const entries = store.journal.soFar().entries.filter(({ lotId }) => lotId === id);
    const parts = [section, ...(entries.length > 0 ? [showEntries(entries, site)] : [])];
    process.stdout.write(`${parts.join("\n\n")}\n`);
  });
}

/** A lot's report for a program. Days and °C; times in RFC 3339. */
function lotJson(report: LotReport): object {
  const { lot, course, entries, profile, season, samples, mouldLooked, ...rest } = report;
  const { worst, ...figures } = season;
  const time = (atMs: number | null) => (atMs === null ? null : formatRfc3339(atMs));
  return {
    ...lot,
    ...rest,
    stays: course.stays.map(({ chamberId, fromMs, toMs }) => ({
      chamber: chamberId,
      from: time(fromMs),
      to: time(toMs),
    })),
    overAt: time(course.overAtMs),
    opened: course.opened,
    lost: course.lost,
    releasedSmall: course.releasedSmall,
    releasedLarge: course.releasedLarge,
    speciesName: profile.name,
    season: figures,
    mouldLooked: mouldLooked && {
      at: time(mouldLooked.lookedMs),
      seen: mouldLooked.seen,
      seenAt: time(mouldLooked.seenMs),
    },
    worstExcursion: worst?.id ?? null,
    samples: samples.map(({ weighings, ...sample }) => ({
      ...sample,
      weighings: weighings.map(({ atMs, ...weighing }) => ({ ...weighing, at: time(atMs) })),
    })),
    entries: entries.map(entryJson),
  };
}
