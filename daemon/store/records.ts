import type { Deaf } from "../../rules/mute.js";
import type { Corrector } from "../../sensors/corrector.js";
import type { RejectReason } from "../../sensors/reject-reason.js";
import type { Absence } from "../../shared/check.js";
import type { Excursion, Finding } from "../../shared/excursion.js";
import type { Reading } from "../../shared/reading.js";
import type { CheckEntry, Shift } from "../checks/record.js";
import type { LetterPicture } from "../letters/letter-picture.js";
import type { JournalBatch, JournalSoFar, JournalWritten } from "./journal.js";

/** One letter as composed; it never changes once it is queued. */
export type NewLetter = Readonly<{
  /** The same whenever the same thing is said again, so that a repeat is ignored. */
  id: string;
  kind: "opening" | "raised" | "closing" | "reminder" | "digest" | "trial" | "board";
  excursionId: string | null;
  createdAtMs: number;
  subject: string;
  text: string;
  html: string;
  messageId: string;
  inReplyTo: string | null;
  /** What is drawn when it is sent, in the order of the slots in its HTML. */
  pictures: readonly LetterPicture[];
}>;

/** What belongs to every fridge's day; a season has a thousand and more. */
export type OrdinaryEvent = Readonly<{ atMs: number; cause: "opening" | "defrost" }>;

/** How far one letter has got on its way to one keeper. */
export type Delivery = Readonly<{
  letterId: string;
  keeper: string;
  /** Tries so far, the successful one included. */
  attempts: number;
  nextTryAtMs: number;
  sentAtMs: number | null;
  givenUpAtMs: number | null;
  lastError: string | null;
}>;

/** A letter with the one delivery that is due. */
export type DueLetter = Readonly<{ letter: NewLetter; delivery: Delivery }>;

/** A letter with every delivery it has. */
export type PostedLetter = Readonly<{ letter: NewLetter; deliveries: readonly Delivery[] }>;

/**
 * What a topic brought. In a batch, `count` is how many came since the batch before it and the
 * store adds them up; in a list, `count` is all of them.
 */
export type Heard = Readonly<{
  topic: string;
  probeId: string | null;
  outcome: "reading" | RejectReason;
  count: number;
  lastAtMs: number;
  /** At most 200 printable characters of a payload. */
  sample: string;
  detail: string | null;
}>;

/** What the judge remembered after all events up to `atMs`. */
export type JudgeMemory = Readonly<{ state: string; atMs: number }>;

/** Everything that one commit makes durable, all of it or none. */
export type Batch = Readonly<{
  readings: readonly Reading[];
  findings: readonly Finding[];
  letters: readonly NewLetter[];
  /** null leaves the stored memory as it is. */
  judge: JudgeMemory | null;
  heard: readonly Heard[];
  /** Board facts that ride along, sparing a commit of their own. */
  facts?: Readonly<Record<string, string>>;
  /** Stretches in which nobody listened, told to the judge since the batch before. */
  deaf?: readonly Deaf[];
}>;

/** What follows from checks that are taken in, all of it or none. */
export type Revision = Readonly<{
  /** Number of the newest entry that is taken in; all before it are too. */
  entryNo: number;
  /** Whose hours and days are made anew, and from when on. */
  shifts: readonly Shift[];
  /** Series that are reckoned, in the place of what they held from an instant on. */
  series: readonly Readonly<{ probeId: string; fromMs: number; values: readonly Reading[] }>[];
  /** Ids of excursions that are judged otherwise now, and all findings that take their place. */
  before: readonly string[];
  after: readonly Finding[];
  judge: JudgeMemory;
  letters: readonly NewLetter[];
}>;

/** One probe over one hour or one calendar day of the site. */
export type Rollup = Readonly<{
  probeId: string;
  /** First instant of the hour or day. */
  fromMs: number;
  /** Readings in it; either quantity may have fewer. */
  count: number;
  temperature: Readonly<{ count: number; meanC: number; lowC: number; highC: number }> | null;
  humidity: Readonly<{ count: number; meanPct: number; lowPct: number; highPct: number }> | null;
}>;

/** `keep` owns the store; `look` reads, acknowledges and queues while another process keeps. */
export type StoreMode = "keep" | "look";

/**
 * The one door to `drowse.db`. What an operator can meet is thrown as a KnownError of the STORE
 * family; a RangeError or TypeError is the caller's mistake.
 */
export type Store = Readonly<{
  /**
   * Store a batch in one transaction, durable on return. Readings already stored, findings and
   * letters already known change nothing. `keepers` each get one delivery of every new letter.
   * When it throws, nothing of the batch is stored.
   *
   * @throws {RangeError} on a reading before 2024, of neither quantity, or that is no number
   */
  commit(batch: Batch, keepers: readonly string[]): void;
  readings: Readonly<{
    /** One probe, oldest first, in [fromMs, toMs). */
    between(probeId: string, fromMs: number, toMs: number): IterableIterator<Reading>;
    /** All probes in order of time, in [fromMs, toMs). */
    allBetween(fromMs: number, toMs: number): IterableIterator<Reading>;
    latest(probeId: string): Reading | null;
    /** Walks the whole table: for a command, not for a loop. */
    count(): number;
  }>;
  /**
   * The history of checks. An entry counts once the process that keeps has taken it in with
   * `revise`; until then corrections, hours and judgement are those of before.
   */
  checks: Readonly<{
    /** Keep an entry for ever; one of the same id changes nothing. */
    add(entry: CheckEntry): void;
    /** All entries, oldest first, taken in or not. */
    entries(): CheckEntry[];
    takenEntries(): CheckEntry[];
    /** Number of the newest entry, and of the newest that was taken in; 0 before the first. */
    newestNo(): number;
    takenNo(): number;
    /** Stretches in which probes were not in their place. */
    absences(): Absence[];
    /** @returns the number under which its end can be moved */
    beginAbsence(absence: Absence): number;
    extendAbsence(no: number, untilMs: number): void;
    /** What is added to readings, by all that was taken in, as of now. */
    corrector(): Corrector;
  }>;
  /** Take in checks with all that follows from them, in one transaction, durable on return. */
  revise(revision: Revision, keepers: readonly string[]): void;
  rollups: Readonly<{
    /** Hours that begin in [fromMs, toMs) and have readings, oldest first. */
    hours(probeId: string, fromMs: number, toMs: number): Rollup[];
    /**
     * Stretches of two minutes in [fromMs, toMs) that have readings, corrected, oldest first; for
     * pictures of a day or two. `fromMs` is when the first reading of a stretch was taken.
     */
    minutes(probeId: string, fromMs: number, toMs: number): Rollup[];
    /** Calendar days of the site that begin in [fromMs, toMs) and have readings, oldest first. */
    days(probeId: string, fromMs: number, toMs: number): Rollup[];
  }>;
  judge: Readonly<{ load(): JudgeMemory | null }>;
  excursions: Readonly<{
    /** Not yet ended, oldest first. */
    open(): Excursion[];
    /** Those that overlap [fromMs, toMs), oldest first. */
    between(fromMs: number, toMs: number): Excursion[];
    /** Of these, all but ordinary openings and defrosts. */
    mattering(fromMs: number, toMs: number): Excursion[];
    /** Ordinary openings and defrosts that began in [fromMs, toMs), oldest first. */
    ordinary(chamberId: string, fromMs: number, toMs: number): OrdinaryEvent[];
    get(id: string): Excursion | null;
    /** What happened to one excursion, oldest first. */
    history(id: string): Finding[];
    /** @returns false when there is no such excursion or it is acknowledged already */
    acknowledge(id: string, atMs: number): boolean;
  }>;
  letters: Readonly<{
    /** What may be tried now, longest due first. */
    due(nowMs: number, limit: number): DueLetter[];
    /** When the next try is due; null while nothing waits. */
    nextDueAtMs(): number | null;
    sent(letterId: string, keeper: string, atMs: number): void;
    /** The clock was set by so much, ms: letters that wait for their next try wait no longer. */
    clockWasSet(byMs: number): void;
    failed(
      letterId: string,
      keeper: string,
      atMs: number,
      nextTryAtMs: number,
      error: string,
      giveUp: boolean,
    ): void;
    /** Queue one letter outside a batch; a letter already known changes nothing. */
    queue(letter: NewLetter, keepers: readonly string[]): void;
    /** Letters created in [fromMs, toMs), oldest first. */
    between(fromMs: number, toMs: number): PostedLetter[];
    get(id: string): PostedLetter | null;
    /** Deliveries never sent, given up or not; the newest 500, oldest of those first. */
    undelivered(): Delivery[];
    ofExcursion(excursionId: string): NewLetter[];
  }>;
  heard: Readonly<{ list(): Heard[] }>;
  /** Stretches in which nobody listened, in the order in which they ended. */
  deaf: Readonly<{ all(): Deaf[] }>;
  journal: Readonly<{
    soFar(): JournalSoFar;
    /** Number of the newest entry, 0 for none; cheap enough for every tick. */
    newestNo(): number;
    /**
     * Add what `plan` makes of all that stands so far, in one transaction; when it throws, nothing
     * is added. An entry that corrects one which is corrected already breaks the store's own rule.
     *
     * @returns the numbers of the new entries
     */
    write(writtenAtMs: number, plan: (journal: JournalSoFar) => JournalBatch): number[];
    /** Write unless this very writing, by its id, was written before; null as a plan writes nothing. */
    writeOnce(
      onceId: string,
      writtenAtMs: number,
      plan: (journal: JournalSoFar) => JournalBatch | null,
    ): JournalWritten;
  }>;
  board: Readonly<{
    /** Writes only when the value differs. */
    note(key: string, value: string): void;
    read(key: string): string | null;
  }>;
  /**
   * Forget raw readings before an instant, in whole hours that are over; all else stays. One that
   * old is ignored from then on, since whether it is already counted can't be known.
   *
   * @returns how many went
   */
  prune(beforeMs: number): number;
  /** Why the disk lets nothing be written, in a clause that follows "the store"; null where it does. */
  unwritable(): string | null;
  /** Write a checked copy of the whole store into one file. */
  copyTo(file: string): Promise<void>;
  close(): void;
}>;
