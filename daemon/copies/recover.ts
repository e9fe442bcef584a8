import { copyFileSync, existsSync, renameSync } from "node:fs";
import { join } from "node:path";
import { storeFileIn } from "../store/database-file.js";
import { claimFolder } from "../store/keep-lock.js";
import { isSound, syncPath } from "../store/store-copy.js";
import { copiesIn } from "./make-copy.js";

/** What became of a damaged store. */
export type Recovery = Readonly<{
  /** Where the damaged file lies now. */
  aside: string;
  /** The copy that stands in its place; null where there was none that is sound. */
  copy: string | null;
}>;

/**
 * Put a damaged store aside and the newest sound copy in its place. Where there is none, nothing
 * is put there, and the next start makes an empty store. The damaged file is kept whole, with
 * what SQLite had beside it.
 *
 * @param stamp makes the name of the damaged file its own, `20261125T033000Z` say
 * @throws {KnownError} STORE_BUSY while another process keeps this folder; an error of the file
 *   system as it came
 */
export function recoverStore(folder: string, copiesFolder: string, stamp: string): Recovery {
  const release = claimFolder(folder);
  try {
    const file = storeFileIn(folder);
    const aside = `${file}.damaged-${stamp}`;
    for (const end of ["-wal", "-shm", ""])
      if (existsSync(file + end)) renameSync(file + end, aside + end);
    const copy = newestSound(copiesFolder);
    if (copy !== null) {
      const part = `${file}.part`;
      copyFileSync(copy, part);
      syncPath(part);
      renameSync(part, file);
    }
    syncPath(folder);
    return { aside, copy };
  } finally {
    release();
  }
}

/** Whether there is a copy at all, sound or not. */
export function hasCopies(copiesFolder: string): boolean {
  return copiesIn(copiesFolder).length > 0;
}

function newestSound(copiesFolder: string): string | null {
  for (const name of copiesIn(copiesFolder)) {
    const file = join(copiesFolder, name);
    if (isSound(file)) return file;
  }
  return null;
}
