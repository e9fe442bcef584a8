import { accessSync, constants, existsSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import { KnownError } from "../../shared/errors.js";
import { isOnReadOnlyDisk, READ_ONLY_WORDS } from "./disk-state.js";
import { explainFailure } from "./failures.js";
import { claimFolder } from "./keep-lock.js";
import { APPLICATION_ID, migrate, STORE_VERSION } from "./migrations.js";
import type { StoreMode } from "./records.js";

const BUSY_TIMEOUT_MS = 5_000;

// A commit writes whole pages, and most of a page it touches has not changed: at 6 probes each
// 10 s, pages of 512 bytes write under a third of what pages of 4096 do.
const PAGE_BYTES = 512;

// About 1 MB of log. Larger spares little more and makes the start after a power cut longer.
const CHECKPOINT_PAGES = 2_000;
const LOG_LIMIT_BYTES = 4 * 1024 * 1024;
const CACHE_KIB = 2_048;

export type DatabaseFile = Readonly<{ db: Database.Database; file: string; close: () => void }>;

/** The file of the store that lies in a folder. */
export function storeFileIn(folder: string): string {
  return join(folder, "drowse.db");
}

/**
 * Open `drowse.db` in `folder`, made and brought up to date if `mode` is `keep`.
 *
 * @throws {KnownError} STORE_UNWRITABLE, STORE_BUSY, STORE_MISSING, STORE_FOREIGN, STORE_TOO_NEW,
 * STORE_OUTDATED, STORE_DAMAGED or STORE_LOCKED
 */
export function openDatabaseFile(folder: string, mode: StoreMode): DatabaseFile {
  const file = storeFileIn(folder);
  try {
    return mode === "keep" ? openToKeep(folder, file) : openToLook(file);
  } catch (error) {
    throw explainFailure(error, file);
  }
}

function openToKeep(folder: string, file: string): DatabaseFile {
  makeFolder(folder);
  const release = claimFolder(folder);
  let db: Database.Database | null = null;
  try {
    db = new Database(file, { timeout: BUSY_TIMEOUT_MS });
    const version = readVersion(db, file) ?? 0;
    if (version === 0) db.pragma(`page_size = ${PAGE_BYTES}`);
    db.pragma("journal_mode = WAL");
    // FULL syncs the log at each commit; NORMAL would lose acknowledged readings in a power cut.
    db.pragma("synchronous = FULL");
    db.pragma(`wal_autocheckpoint = ${CHECKPOINT_PAGES}`);
    db.pragma(`journal_size_limit = ${LOG_LIMIT_BYTES}`);
    setUp(db);
    migrate(db, version);
  } catch (error) {
    db?.close();
    release();
    throw error;
  }
  const opened = db;
  return {
    db,
    file,
    close: () => {
      opened.close();
      release();
    },
  };
}

function openToLook(file: string): DatabaseFile {
  if (!existsSync(file)) throw missing(file);
  const readonly = !isWritable(file);
  const db = new Database(file, { fileMustExist: true, timeout: BUSY_TIMEOUT_MS, readonly });
  try {
    const version = readVersion(db, file);
    if (version === null) throw missing(file);
    if (version < STORE_VERSION)
      throw new KnownError(
        "STORE_OUTDATED",
        `${file} is of version ${version} and this Drowse reads ${STORE_VERSION}; ` +
          "start drowse keep once, it brings the store up to date",
      );
    if (!readonly) db.pragma("synchronous = FULL");
    setUp(db);
  } catch (error) {
    db.close();
    throw error;
  }
  return { db, file, close: () => db.close() };
}

function setUp(db: Database.Database): void {
  db.pragma("foreign_keys = ON");
  db.pragma(`cache_size = -${CACHE_KIB}`);
}

/** @returns the version of a store of ours, null for a file that holds nothing yet */
function readVersion(db: Database.Database, file: string): number | null {
  const applicationId = readHead(db, file);
  const version = Number(db.pragma("user_version", { simple: true }));
  if (applicationId !== APPLICATION_ID) {
    const tables = db.prepare("SELECT count(*) FROM sqlite_schema").pluck().get();
    if (applicationId === 0 && version === 0 && tables === 0) return null;
    throw foreign(file, "it is another program's database");
  }
  if (version > STORE_VERSION)
    throw new KnownError(
      "STORE_TOO_NEW",
      `${file} is of version ${version} and this Drowse knows up to ${STORE_VERSION}; ` +
        "install the newer Drowse that wrote it, or put back a copy made before it",
    );
  return version;
}

function readHead(db: Database.Database, file: string): number {
  try {
    return Number(db.pragma("application_id", { simple: true }));
  } catch (error) {
    if (error instanceof Database.SqliteError && error.code === "SQLITE_NOTADB")
      throw foreign(file, "it is no SQLite file, or its head is damaged", error);
    throw error;
  }
}

function makeFolder(folder: string): void {
  const file = storeFileIn(folder);
  const readOnly = (cause?: unknown) =>
    new KnownError("STORE_UNWRITABLE", `${file} ${READ_ONLY_WORDS}`, { cause });
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.W_OK | constants.X_OK);
  } catch (error) {
    if (isOnReadOnlyDisk(file)) throw readOnly(error);
    throw new KnownError(
      "STORE_UNWRITABLE",
      `${folder} can't be written (${error instanceof Error ? error.message : error}); ` +
        "let Drowse's user write it, or set [store] folder to one it may write",
      { cause: error },
    );
  }
  // SQLite would open what it may not write all the same, to read.
  if (isOnReadOnlyDisk(file)) throw readOnly();
}

function isWritable(file: string): boolean {
  try {
    accessSync(file, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

function missing(file: string): KnownError {
  return new KnownError("STORE_MISSING", `there is no store at ${file}; run drowse keep first`);
}

function foreign(file: string, why: string, cause?: Error): KnownError {
  return new KnownError(
    "STORE_FOREIGN",
    `${file} is not a Drowse store, ${why}; move it aside, or set [store] folder elsewhere`,
    { cause },
  );
}
