import { accessSync, closeSync, constants, openSync, statfsSync } from "node:fs";
import { dirname } from "node:path";

/** Less than that is left by what fills a disk to the last block; our choice. */
const ROOM_LEAST_BYTES = 64 * 1024;

/** Whether a database lies on a file system that nobody may write, root included. */
export function isOnReadOnlyDisk(file: string): boolean {
  // A newer Linux says so of a damaged file system only where a file is opened. The log it is, for
  // to close the database's own file would drop the locks that SQLite holds on it.
  return (
    meetsReadOnly(() => accessSync(dirname(file), constants.W_OK)) ||
    meetsReadOnly(() => closeSync(openSync(`${file}-wal`, "r+")))
  );
}

function meetsReadOnly(write: () => void): boolean {
  try {
    write();
    return false;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EROFS";
  }
}

/** Linux makes a file system read-only when it finds an error on it (mount(8), errors=remount-ro). */
export const READ_ONLY_WORDS =
  "lies on a file system that is read-only, as one becomes whose card or disk fails; switch the " +
  "board off and on, and put in another card if it comes again";

/** Why the disk lets nothing be written to a file, in a clause after its name; null where it does. */
export function whyUnwritable(file: string): string | null {
  if (isOnReadOnlyDisk(file)) return READ_ONLY_WORDS;
  try {
    const { bavail, bsize } = statfsSync(dirname(file));
    return bavail * bsize < ROOM_LEAST_BYTES
      ? "can't grow, its disk is full; free some room"
      : null;
  } catch {
    return null;
  }
}
