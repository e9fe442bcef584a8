import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import { KnownError } from "../../shared/errors.js";

/**
 * Claim `folder` for this process, so that two `keep` never judge the same readings twice.
 *
 * The lock is SQLite's own on an empty file: the kernel drops it when the process ends, however
 * it ends, so there is never a stale one to clear. The pid is a plain file beside it that only
 * serves the message.
 *
 * @returns the release, to be called once
 * @throws {KnownError} STORE_BUSY, naming the process that has it
 */
export function claimFolder(folder: string): () => void {
  const pidFile = join(folder, "keep.pid");
  const lock = new Database(join(folder, "keep.lock"), { timeout: 0 });
  try {
    lock.exec("BEGIN EXCLUSIVE");
  } catch (error) {
    lock.close();
    if (!isBusy(error)) throw error;
    throw new KnownError(
      "STORE_BUSY",
      `${folder} is kept by process ${readPid(pidFile)} already; stop that one first, ` +
        "or give this Drowse a folder of its own",
      { cause: error },
    );
  }
  notePid(pidFile);
  return () => {
    removePid(pidFile);
    lock.close();
  };
}

/** Claim `folder`, or null where another process has it. Throws what `claimFolder` throws else. */
export function claimUnlessKept(folder: string): (() => void) | null {
  try {
    return claimFolder(folder);
  } catch (error) {
    if (error instanceof KnownError && error.code === "STORE_BUSY") return null;
    throw error;
  }
}

/** Whether a process keeps this folder now. */
export function isKept(folder: string): boolean {
  const release = claimUnlessKept(folder);
  release?.();
  return release === null;
}

/** Only a message needs it, and a full disk must not keep the watch from starting. */
function notePid(pidFile: string): void {
  try {
    writeFileSync(pidFile, `${process.pid}\n`);
  } catch {
    // The message then says "unknown".
  }
}

/** On a disk that has become read-only it stays; the lock is what counts. */
function removePid(pidFile: string): void {
  try {
    rmSync(pidFile, { force: true });
  } catch {
    // The next to keep writes its own.
  }
}

function isBusy(error: unknown): boolean {
  return error instanceof Database.SqliteError && error.code.startsWith("SQLITE_BUSY");
}

function readPid(pidFile: string): string {
  try {
    return readFileSync(pidFile, "utf8").trim() || "unknown";
  } catch {
    return "unknown";
  }
}
