import type { Database } from "better-sqlite3";
import type { Reading } from "../../shared/reading.js";
import type { Site } from "../../shared/site.js";
import { startOfLocalHour } from "../../shared/site-calendar.js";
import { HOUR_MS } from "../../shared/time.js";
import { openBoard } from "./board-facts.js";
import { openChecks } from "./checks.js";
import { openDatabaseFile } from "./database-file.js";
import { openDeafStretches } from "./deaf-stretches.js";
import { whyUnwritable } from "./disk-state.js";
import { openExcursions } from "./excursions.js";
import { explained } from "./failures.js";
import { openHeard } from "./heard-topics.js";
import { openJournal } from "./journal.js";
import { openJudgeMemory } from "./judge-memory.js";
import { firstReadingKeyAt } from "./keys.js";
import { openLetters, openPosting } from "./letters.js";
import { openProbeNumbers } from "./probe-numbers.js";
import { openReadings } from "./readings.js";
import type { Batch, NewLetter, Revision, Store, StoreMode } from "./records.js";
import { openRevising } from "./revising.js";
import { openRollups } from "./rollups.js";
import { copyStore } from "./store-copy.js";
import { openUpkeep } from "./upkeep.js";

export type {
  Batch,
  Delivery,
  DueLetter,
  Heard,
  JudgeMemory,
  NewLetter,
  Revision,
  Rollup,
  Store,
  StoreMode,
} from "./records.js";

/**
 * Open the store in `folder`.
 *
 * `keep`, the default, makes it if need be and is the only one of its folder. `look` is for
 * another process while one keeps: it reads, acknowledges, queues letters, notes facts and writes
 * the journal; its `commit` and `prune` throw TypeError.
 *
 * @throws {KnownError} of the STORE family, as `openDatabaseFile` says
 */
export function openStore(
  folder: string,
  site: Pick<Site, "timezone">,
  options: Readonly<{ mode?: StoreMode }> = {},
): Store {
  const mode = options.mode ?? "keep";
  const { db, file, close } = openDatabaseFile(folder, mode);
  try {
    const tables = explained({ open: () => openTables(db, site.timezone) }, file).open();
    const keeper = explained(mode === "keep" ? openKeeper(db, tables) : BARRED, file);
    if (mode === "keep") keeper.adopt();
    return assemble(db, file, tables, keeper, close);
  } catch (error) {
    close();
    throw error;
  }
}

type Tables = ReturnType<typeof openTables>;
type Keeper = Readonly<{
  adopt(): void;
  commit(batch: Batch, keepers: readonly string[]): void;
  revise(revision: Revision, keepers: readonly string[]): void;
  prune(beforeMs: number): number;
}>;

function openTables(db: Database, timezone: string) {
  const probes = openProbeNumbers(db);
  const upkeep = openUpkeep(db, timezone);
  const readings = openReadings(db, probes);
  const checks = openChecks(db);
  return {
    timezone,
    probes,
    upkeep,
    readings,
    checks,
    rollups: openRollups(db, timezone, { probes, upkeep, readings, checks }),
    excursions: openExcursions(db),
    letters: openLetters(db),
    posting: openPosting(db),
    heard: openHeard(db),
    deaf: openDeafStretches(db),
    journal: openJournal(db),
    judge: openJudgeMemory(db),
    board: openBoard(db),
  };
}

/** What only the process that keeps may do. */
function openKeeper(db: Database, tables: Tables): Keeper {
  const { timezone, probes, upkeep, readings, rollups } = tables;
  const commit = db.transaction((batch: Batch, keepers: readonly string[]) => {
    // Whether a reading that old was counted before it was forgotten can't be known any more.
    const oldestKey = firstReadingKeyAt(upkeep.prunedBeforeMs());
    const rows = batch.readings.map(readings.rowOf).filter(({ key }) => key >= oldestKey);
    rollups.add(rows.filter(readings.add));
    for (const finding of batch.findings) tables.excursions.apply(finding);
    for (const letter of batch.letters) tables.posting.queue(letter, keepers);
    for (const heard of batch.heard) tables.heard.add(heard);
    for (const deaf of batch.deaf ?? []) tables.deaf.add(deaf);
    if (batch.judge) tables.judge.save(batch.judge);
    for (const [key, value] of Object.entries(batch.facts ?? {})) tables.board.note(key, value);
  });
  const revise = db.transaction(openRevising(tables));
  const adopt = db.transaction(() => {
    if (upkeep.timezone() === timezone) return;
    upkeep.setTimezone();
    rollups.rebuild();
  });
  const orForget = (work: () => void): void => {
    try {
      work();
    } catch (error) {
      probes.forget();
      throw error;
    }
  };
  const pruneSome = db.transaction((beforeMs: number): number => {
    if (beforeMs > upkeep.prunedBeforeMs()) upkeep.setPrunedBeforeMs(beforeMs);
    return readings.removeSome(beforeMs);
  });

  return {
    /** Bring rollups into the site's time zone, where the config has another one by now. */
    adopt: () => adopt.immediate(),
    commit: (batch, keepers) => orForget(() => commit.immediate(batch, keepers)),
    revise: (revision, keepers) => orForget(() => revise.immediate(revision, keepers)),
    prune(beforeMs) {
      // Whole hours, and none without its row yet: each can be made anew from its raw readings,
      // or stays as it is.
      const closedMs = Math.min(beforeMs, upkeep.hoursClosedBeforeMs());
      const hourMs = startOfLocalHour(closedMs, timezone);
      let removed = 0;
      for (let some = 1; some > 0; removed += some) some = pruneSome.immediate(hourMs);
      rollups.forgetFrom(Number.NEGATIVE_INFINITY);
      return removed;
    },
  };
}

const BARRED: Keeper = {
  adopt: () => bar("adopt"),
  commit: () => bar("commit"),
  revise: () => bar("revise"),
  prune: () => bar("prune"),
};

function bar(what: string): never {
  throw new TypeError(`${what} needs the store opened to keep`);
}

function assemble(
  db: Database,
  file: string,
  tables: Tables,
  keeper: Keeper,
  close: () => void,
): Store {
  const { readings, rollups, checks, excursions, letters, posting, heard, deaf, judge, board } =
    tables;
  const { setTakenNo: _, ...checksMade } = checks;
  // What a probe says while it is not in its place does not count.
  const anew = <Asked extends unknown[], R>(change: (...asked: Asked) => R) => {
    return (...asked: Asked): R => {
      rollups.forgetFrom(Number.NEGATIVE_INFINITY);
      return change(...asked);
    };
  };
  const queue = db.transaction((letter: NewLetter, keepers: readonly string[]) =>
    posting.queue(letter, keepers),
  );
  const { between, allBetween, count } = readings;
  const latest = (probeId: string): Reading | null => {
    const openHour = readings.newest(probeId, tables.upkeep.hoursClosedBeforeMs(), Infinity);
    const hourMs = openHour ? null : rollups.lastHourMs(probeId);
    return hourMs === null ? openHour : readings.newest(probeId, hourMs, hourMs + HOUR_MS);
  };
  const { hours, minutes, days } = rollups;
  const { open, mattering, ordinary, get, history, acknowledge } = excursions;
  const told = {
    open,
    between: excursions.between,
    mattering,
    ordinary,
    get,
    history,
    acknowledge,
  };
  const { sent, failed, clockWasSet } = posting;
  return {
    commit: keeper.commit,
    revise: keeper.revise,
    prune: keeper.prune,
    checks: explained(
      {
        ...checksMade,
        beginAbsence: anew(checks.beginAbsence),
        extendAbsence: anew(checks.extendAbsence),
      },
      file,
    ),
    readings: explained({ between, allBetween, latest, count }, file),
    rollups: explained({ hours, minutes, days }, file),
    judge: explained({ load: judge.load }, file),
    excursions: explained(told, file),
    letters: explained({ ...letters, sent, failed, clockWasSet, queue: queue.immediate }, file),
    heard: explained({ list: heard.list }, file),
    deaf: explained({ all: deaf.all }, file),
    journal: explained(tables.journal, file),
    board: explained(board, file),
    unwritable: () => whyUnwritable(file),
    copyTo: (target) => copyStore(db, target),
    close,
  };
}
