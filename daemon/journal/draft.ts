import type { Entry, Lot, LotVersion, NewEntry } from "../../shared/journal.js";
import type { Site } from "../../shared/site.js";
import type { JournalBatch, JournalSoFar } from "../store/journal.js";
import type { Faults, Typed } from "./fields.js";
import type { Ground } from "./ground.js";
import { readEntry } from "./read-entry.js";
import { readLotVersion, readNewLot } from "./read-lot.js";

/** What is about to be written: each thing is checked against all that comes before it. */
export type Draft = Readonly<{
  /** Each takes a thing in, or says what is wrong with it and takes nothing. */
  addLot(typed: Typed): Faults | null;
  changeLot(typed: Typed): Faults | null;
  addEntry(typed: Typed): Faults | null;
  /** The number that the next entry will have. */
  nextNo(): number;
  /** All that was taken in. */
  batch(): JournalBatch;
  /** What everything will look like. */
  ground(): Ground;
}>;

/** Begin to write into a journal as it stands. Writes nothing itself. */
export function openDraft(
  site: Pick<Site, "timezone" | "chambers">,
  journal: JournalSoFar,
  nowMs: number,
): Draft {
  const entries: Entry[] = [...journal.entries];
  const lots = latestLots(journal.lots);
  const ground: Ground = { site, nowMs, entries, lots };
  const batch = { lots: [] as Lot[], entries: [] as NewEntry[] };
  const nextNo = () => journal.nextNo + batch.entries.length;
  const takeEntry = (entry: NewEntry): void => {
    entries.push({ ...entry, no: nextNo(), writtenAtMs: nowMs });
    batch.entries.push(entry);
  };
  const takeLot = (read: ReturnType<typeof readNewLot>): Faults | null => {
    if ("faults" in read) return read.faults;
    lots.set(read.lot.id, read.lot);
    batch.lots.push(read.lot);
    if (read.move !== null) takeEntry(read.move);
    return null;
  };
  return {
    addLot: (typed) => takeLot(readNewLot(typed, ground)),
    changeLot: (typed) => takeLot(readLotVersion(typed, ground)),
    addEntry: (typed) => {
      const read = readEntry(typed, ground);
      if ("faults" in read) return read.faults;
      takeEntry(read.entry);
      return null;
    },
    nextNo,
    batch: () => batch,
    ground: () => ground,
  };
}

/** The latest version of each lot, by its id, in the order in which lots were first written. */
export function latestLots(versions: readonly LotVersion[]): Map<string, Lot> {
  const lots = new Map<string, Lot>();
  for (const { no: _no, writtenAtMs: _written, ...lot } of versions) lots.set(lot.id, lot);
  return lots;
}
