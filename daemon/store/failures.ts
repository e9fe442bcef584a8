import Database from "better-sqlite3";
import { KnownError } from "../../shared/errors.js";
import { isOnReadOnlyDisk, READ_ONLY_WORDS } from "./disk-state.js";

/** What SQLite's result codes mean for the one who runs Drowse, most telling first. */
const MEANINGS = [
  [
    /^SQLITE_(CORRUPT|NOTADB)/,
    "STORE_DAMAGED",
    "is damaged; stop keep, move it aside with any -wal and -shm beside it, and put the newest " +
      "copy in its place",
  ],
  [
    /^SQLITE_(BUSY|LOCKED)/,
    "STORE_LOCKED",
    "stayed locked by another program for 5 s; close what has it open and try again",
  ],
  [/^SQLITE_FULL/, "STORE_FULL", "could not grow; free some room on its disk"],
  [
    /^SQLITE_(READONLY|CANTOPEN|PERM|AUTH)/,
    "STORE_UNWRITABLE",
    "can't be written; let Drowse's user write the file and its folder",
  ],
  [
    /^SQLITE_IOERR/,
    "STORE_DAMAGED",
    "can't be read or written, the disk reports an error; check or replace the disk",
  ],
] as const;

const OF_WRITING = /^SQLITE_(IOERR|READONLY|CANTOPEN)/;
const READ_ONLY = [OF_WRITING, "STORE_UNWRITABLE", READ_ONLY_WORDS] as const;

/** SQLite's failures as KnownErrors that name `file` and the cure; anything else as it is. */
export function explainFailure(error: unknown, file: string): unknown {
  if (!(error instanceof Database.SqliteError)) return error;
  // SQLite calls the system's "read-only file system" an I/O error like any other.
  const isReadOnly = OF_WRITING.test(error.code) && isOnReadOnlyDisk(file);
  const meaning = isReadOnly ? READ_ONLY : MEANINGS.find(([codes]) => codes.test(error.code));
  if (!meaning) return error;
  const [, code, clause] = meaning;
  return new KnownError(code, `${file} ${clause} (${error.code}: ${error.message})`, {
    cause: error,
  });
}

/** Whether SQLite found the file damaged, as against a disk that can't be read just now. */
export function isDamage(error: unknown): boolean {
  if (!(error instanceof KnownError) || error.code !== "STORE_DAMAGED") return false;
  const { cause } = error;
  // A copy that failed its check has no cause of SQLite's.
  return !(cause instanceof Database.SqliteError) || !cause.code.startsWith("SQLITE_IOERR");
}

/** Whether the disk is full or not to be written, which no restart mends. */
export function isDiskTrouble(error: unknown): boolean {
  return (
    error instanceof KnownError &&
    (error.code === "STORE_FULL" || error.code === "STORE_UNWRITABLE")
  );
}

/** Whether the file is no SQLite database at all, or not any more. */
export function isHeadDamage(error: unknown): boolean {
  return (
    error instanceof KnownError &&
    error.code === "STORE_FOREIGN" &&
    error.cause instanceof Database.SqliteError
  );
}

/** The same functions, with their failures explained; those of an iterator they return too. */
export function explained<T extends object>(section: T, file: string): T {
  const wrapped = Object.entries(section).map(([name, call]) => [
    name,
    (...args: unknown[]) => {
      const result = attempt(() => call(...args), file);
      return isIterator(result) ? explainedIterator(result, file) : result;
    },
  ]);
  return Object.fromEntries(wrapped);
}

function attempt<R>(work: () => R, file: string): R {
  try {
    return work();
  } catch (error) {
    throw explainFailure(error, file);
  }
}

function isIterator(value: unknown): value is IterableIterator<unknown> {
  return typeof value === "object" && value !== null && "next" in value;
}

function* explainedIterator(source: IterableIterator<unknown>, file: string) {
  try {
    yield* source;
  } catch (error) {
    throw explainFailure(error, file);
  }
}
