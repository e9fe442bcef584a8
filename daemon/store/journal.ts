import type { Database } from "better-sqlite3";
import type { Act, Entry, Lot, LotVersion, NewEntry } from "../../shared/journal.js";
import { HOUR_MS } from "../../shared/time.js";

/** All that was ever written down, oldest first, and the number that the next entry will have. */
export type JournalSoFar = Readonly<{
  entries: readonly Entry[];
  lots: readonly LotVersion[];
  nextNo: number;
}>;

/** What one writing adds, all of it or none. */
export type JournalBatch = Readonly<{ lots: readonly Lot[]; entries: readonly NewEntry[] }>;

/** What a writing added; `isAgain` where the very same was written before, and nothing was added. */
export type JournalWritten = Readonly<{ numbers: readonly number[]; isAgain: boolean }>;

/** Whoever writes the same from the same form after so long means another time; our choice. */
const REMEMBERED_MS = 6 * HOUR_MS;

type EntryRow = Omit<Entry, "act"> & Readonly<{ kind: string; details: string }>;
type NewRow = Omit<EntryRow, "no">;

/** Statements over `journal` and `lot`, to which rows are only ever added. The caller owns `db`. */
export function openJournal(db: Database) {
  const insertEntry = db.prepare<NewRow>(`
    INSERT INTO journal
      (at_ms, written_at_ms, kind, chamber_id, lot_id, details, words, corrects)
    VALUES (@atMs, @writtenAtMs, @kind, @chamberId, @lotId, @details, @words, @corrects)`);
  const entries = db.prepare<[], EntryRow>(`
    SELECT entry_no AS no, at_ms AS atMs, written_at_ms AS writtenAtMs, kind,
      chamber_id AS chamberId, lot_id AS lotId, details, words, corrects
    FROM journal ORDER BY entry_no`);
  const newestNo = db.prepare<[], number>("SELECT coalesce(max(entry_no), 0) FROM journal");
  newestNo.pluck();
  const insertLot = db.prepare<Lot & { writtenAtMs: number }>(`
    INSERT INTO lot (written_at_ms, lot_id, species, origin, harvested_on, large_cocoons,
      small_cocoons, box, warm_days, words)
    VALUES (@writtenAtMs, @id, @species, @origin, @harvestedOn, @large, @small, @box, @warmDays,
      @words)`);
  const lots = db.prepare<[], LotVersion>(`
    SELECT version_no AS no, written_at_ms AS writtenAtMs, lot_id AS id, species, origin,
      harvested_on AS harvestedOn, large_cocoons AS large, small_cocoons AS small, box,
      warm_days AS warmDays, words
    FROM lot ORDER BY version_no`);

  const before = db.prepare<[string], string>("SELECT entry_nos FROM written_once WHERE id = ?");
  before.pluck();
  const remember = db.prepare<[string, number, string]>(
    "INSERT INTO written_once (id, written_at_ms, entry_nos) VALUES (?, ?, ?)",
  );
  const forget = db.prepare<[number]>("DELETE FROM written_once WHERE written_at_ms < ?");

  const readEntries = (): Entry[] => entries.all().map(toEntry);
  const soFar = (): JournalSoFar => ({
    entries: readEntries(),
    lots: lots.all(),
    nextNo: newestNo.get()! + 1,
  });
  const write = db.transaction(
    (writtenAtMs: number, plan: (journal: JournalSoFar) => JournalBatch): number[] => {
      const batch = plan(soFar());
      for (const lot of batch.lots) insertLot.run({ ...lot, writtenAtMs });
      return batch.entries.map((entry) => {
        const { lastInsertRowid } = insertEntry.run(toRow(entry, writtenAtMs));
        return Number(lastInsertRowid);
      });
    },
  );
  const writeOnce = db.transaction(
    (
      onceId: string,
      writtenAtMs: number,
      plan: (journal: JournalSoFar) => JournalBatch | null,
    ): JournalWritten => {
      forget.run(writtenAtMs - REMEMBERED_MS);
      const known = before.get(onceId);
      if (known !== undefined) return { numbers: JSON.parse(known), isAgain: true };
      const batch = plan(soFar());
      if (batch === null) return { numbers: [], isAgain: false };
      const numbers = write(writtenAtMs, () => batch);
      remember.run(onceId, writtenAtMs, JSON.stringify(numbers));
      return { numbers, isAgain: false };
    },
  );
  return {
    soFar,
    newestNo: (): number => newestNo.get()!,
    write: (writtenAtMs: number, plan: (journal: JournalSoFar) => JournalBatch): number[] =>
      write.immediate(writtenAtMs, plan),
    /** Write unless this very writing, by its id, was written before; null as a plan writes nothing. */
    writeOnce: (
      onceId: string,
      writtenAtMs: number,
      plan: (journal: JournalSoFar) => JournalBatch | null,
    ): JournalWritten => writeOnce.immediate(onceId, writtenAtMs, plan),
  };
}

function toRow({ act, ...entry }: NewEntry, writtenAtMs: number): NewRow {
  const { kind, ...details } = act;
  return { ...entry, writtenAtMs, kind, details: JSON.stringify(details) };
}

function toEntry({ kind, details, ...row }: EntryRow): Entry {
  return { ...row, act: { kind, ...JSON.parse(details) } as Act };
}
