import {
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
} from "node:fs";
import { dirname, resolve } from "node:path";
import Database from "better-sqlite3";
import { KnownError } from "../../shared/errors.js";
import { explainFailure } from "./failures.js";
import { APPLICATION_ID } from "./migrations.js";

// Pages a turn of the event loop; 2 MB hardly delay a message.
const PAGES_A_TURN = 4_096;

/**
 * Copy an open store into one file, while it goes on being written; checked, then put in place
 * in one step. An older copy of that name is replaced, any other file is not.
 *
 * @throws {KnownError} STORE_COPY_REFUSED, STORE_DAMAGED when the copy fails its check, or
 * STORE_UNWRITABLE or STORE_FULL where it is written
 */
export async function copyStore(db: Database.Database, file: string): Promise<void> {
  const target = resolve(file);
  const part = `${target}.part`;
  refuseOther(db, target);
  try {
    rmSync(part, { force: true });
    await db.backup(part, { progress: () => PAGES_A_TURN });
    checkCopy(part);
    syncPath(part);
    renameSync(part, target);
    syncPath(dirname(target));
  } catch (error) {
    rmSync(part, { force: true });
    throw unwritable(explainFailure(error, target), target);
  }
}

function refuseOther(db: Database.Database, target: string): void {
  if (!existsSync(target)) return;
  const isLive = realpathSync(target) === realpathSync(db.name);
  if (isLive || !isStore(target))
    throw new KnownError(
      "STORE_COPY_REFUSED",
      `${target} is ${isLive ? "the store itself" : "there already and is no copy of a store"}; ` +
        "choose another name",
    );
}

/** Whether a file is a store of ours and SQLite finds no damage in it; walks through all of it. */
export function isSound(file: string): boolean {
  return isStore(file, (db) => db.pragma("integrity_check(1)", { simple: true }) === "ok");
}

function isStore(file: string, also: (db: Database.Database) => boolean = () => true): boolean {
  try {
    const db = new Database(file, { readonly: true, fileMustExist: true });
    try {
      return db.pragma("application_id", { simple: true }) === APPLICATION_ID && also(db);
    } finally {
      db.close();
    }
  } catch {
    return false;
  }
}

/** Open the copy as a reader of it would, and make it one file that needs none beside it. */
function checkCopy(part: string): void {
  const copy = new Database(part, { fileMustExist: true });
  try {
    copy.pragma("journal_mode = DELETE");
    const verdict = copy.pragma("integrity_check(1)", { simple: true });
    if (verdict !== "ok")
      throw new KnownError(
        "STORE_DAMAGED",
        `the copy ${part} failed its check (${verdict}), so the store itself may be damaged; ` +
          "keep the last good copy",
      );
  } finally {
    copy.close();
  }
}

/** See that what was written to a file, or to a folder's list of names, is on the disk. */
export function syncPath(path: string): void {
  const handle = openSync(path, "r");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

/** A target that can't be written is the caller's wrong choice, so say so by name. */
function unwritable(error: unknown, target: string): unknown {
  if (error instanceof KnownError) return error;
  const reason = error instanceof Error ? error.message : String(error);
  return new KnownError(
    "STORE_UNWRITABLE",
    `the copy ${target} can't be written (${reason}); choose a folder Drowse's user may write`,
    { cause: error },
  );
}
