import type { Database } from "better-sqlite3";
import { type Corrector, openCorrector } from "../../sensors/corrector.js";
import type { Absence } from "../../shared/check.js";
import { type CheckEntry, heldCorrections } from "../checks/record.js";

export type Checks = ReturnType<typeof openChecks>;

type EntryRow = Readonly<{ no: number; entry: string }>;

/**
 * Statements over `check_entry`, which only grows, and `absence`. The caller owns `db`.
 *
 * An entry counts from when it is taken in, together with all that follows from it, by the process
 * that keeps; so that hours, judgement and corrections never disagree.
 */
export function openChecks(db: Database) {
  const add = db.prepare<[string, number, string]>(
    "INSERT INTO check_entry (id, made_at_ms, entry) VALUES (?, ?, ?) ON CONFLICT (id) DO NOTHING",
  );
  const upTo = db.prepare<[number], EntryRow>(
    "SELECT entry_no AS no, entry FROM check_entry WHERE entry_no <= ? ORDER BY entry_no",
  );
  const newest = db.prepare<[], number>("SELECT coalesce(max(entry_no), 0) FROM check_entry");
  const taken = db.prepare<[], number>("SELECT checks_taken_no FROM upkeep");
  const setTaken = db.prepare<[number]>("UPDATE upkeep SET checks_taken_no = ?");
  const absences = db.prepare<[], Absence>(
    "SELECT probe_id AS probeId, from_ms AS fromMs, until_ms AS untilMs FROM absence",
  );
  const begin = db.prepare<[string, number, number]>(
    "INSERT INTO absence (probe_id, from_ms, until_ms) VALUES (?, ?, ?)",
  );
  const extend = db.prepare<[number, number]>(
    "UPDATE absence SET until_ms = ? WHERE absence_no = ?",
  );
  for (const statement of [newest, taken]) statement.pluck();

  const read = (rows: readonly EntryRow[]) => rows.map(({ entry }) => JSON.parse(entry));
  const entries = (): CheckEntry[] => read(upTo.all(Number.MAX_SAFE_INTEGER));
  const takenEntries = (): CheckEntry[] => read(upTo.all(taken.get()!));

  return {
    /** Keep an entry for ever; one of the same id changes nothing. */
    add: (entry: CheckEntry): void => void add.run(entry.id, entry.madeAtMs, JSON.stringify(entry)),
    /** All entries, oldest first. */
    entries,
    takenEntries,
    /** Number of the newest entry, and of the newest that was taken in; 0 before the first. */
    newestNo: (): number => newest.get()!,
    takenNo: (): number => taken.get()!,
    setTakenNo: (no: number): void => void setTaken.run(no),
    absences: (): Absence[] => absences.all(),
    /** A probe leaves its place. @returns the number of its absence */
    beginAbsence: ({ probeId, fromMs, untilMs }: Absence): number =>
      Number(begin.run(probeId, fromMs, untilMs).lastInsertRowid),
    /** Move the end of an absence. */
    extendAbsence: (no: number, untilMs: number): void => void extend.run(untilMs, no),
    /** The corrections of all that was taken in, and every absence, as of now. */
    corrector: (): Corrector => openCorrector(heldCorrections(takenEntries()), absences.all()),
  };
}
