import { existsSync, mkdirSync, readdirSync, rmSync, statfsSync, statSync } from "node:fs";
import { join } from "node:path";
import { KnownError } from "../../shared/errors.js";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import type { Store } from "../store/store.js";
import { copiesAmong, copyNameOf, outlivedCopies } from "./copy-names.js";

/** Board facts: when and where the last copy was made, and why there is none since ("" if well). */
export const COPY_KEY = "copy";
export const COPY_TROUBLE_KEY = "copy-trouble";

/** What a copy is made of, and where it goes. */
export type CopyPorts = Readonly<{
  store: Pick<Store, "copyTo" | "board">;
  /** The file of the store itself, whose size a copy will have. */
  file: string;
  folder: string;
  timezone: string;
}>;

/** Room that is left on the disk for the store itself to grow, bytes; our choice. */
const ROOM_LEFT = 64 * 1024 * 1024;

/**
 * Make the copy of the day in its folder and let go of those that have outlived their use. What
 * became of it is noted on the board, for `drowse now` and the digest.
 *
 * @returns the file
 * @throws {KnownError} STORE_FULL where the copy would leave the store no room, and what
 *   `Store.copyTo` throws
 */
export async function makeCopy(ports: CopyPorts, nowMs: number): Promise<string> {
  const { store, folder, timezone } = ports;
  const file = join(folder, copyNameOf(nowMs, timezone));
  try {
    makeRoom(folder, ports.file);
    await store.copyTo(file);
  } catch (error) {
    store.board.note(COPY_TROUBLE_KEY, error instanceof Error ? error.message : String(error));
    throw error;
  }
  store.board.note(COPY_KEY, `${formatRfc3339(nowMs)} ${file}`);
  store.board.note(COPY_TROUBLE_KEY, "");
  for (const name of outlivedCopies(readdirSync(folder))) rmSync(join(folder, name));
  return file;
}

/** The names of the copies in a folder, newest first; none where there is no such folder. */
export function copiesIn(folder: string): string[] {
  return existsSync(folder) ? copiesAmong(readdirSync(folder)) : [];
}

function makeRoom(folder: string, storeFile: string): void {
  let free: number;
  try {
    mkdirSync(folder, { recursive: true });
    const disk = statfsSync(folder);
    free = disk.bavail * disk.bsize;
  } catch (error) {
    throw new KnownError(
      "STORE_UNWRITABLE",
      `copies can't be kept in ${folder} (${error instanceof Error ? error.message : error}); ` +
        "let Drowse's user write it, or set [store] copies_folder elsewhere",
      { cause: error },
    );
  }
  const needed = statSync(storeFile).size + ROOM_LEFT;
  if (free >= needed) return;
  throw new KnownError(
    "STORE_FULL",
    `a copy in ${folder} needs ${megabytes(needed)} MB and ${megabytes(free)} MB are free; ` +
      "free some room, or set [store] copies_folder to another disk",
  );
}

const megabytes = (bytes: number): string => (bytes / 1e6).toFixed(0);
