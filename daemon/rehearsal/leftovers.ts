import { existsSync, mkdirSync, readdirSync, renameSync, rmSync } from "node:fs";
import { join } from "node:path";
import { KnownError } from "../../shared/errors.js";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import { storeFileIn } from "../store/database-file.js";
import { claimFolder } from "../store/keep-lock.js";
import { PACE_FILE } from "./fast-clock.js";

/** Folders in which former rehearsals were laid; the name ends in when. */
const ASIDE = "rehearsal-of-";
/** The lock stays where it is, for it is held while the rest is moved. */
const STAYS = /^keep\.(lock|pid)/;

/**
 * Before the real thing begins: move what a rehearsal left in its store's folder into a folder
 * beside it. Invented readings, with times ahead of any clock, would spoil a real winter.
 *
 * @returns the folder that now holds them; null when there was no rehearsal
 * @throws {KnownError} STORE_BUSY while the rehearsal still runs
 */
export function setRehearsalAside(folder: string): string | null {
  if (!existsSync(join(folder, PACE_FILE))) return null;
  const release = claimFolder(folder);
  try {
    const stamp = formatRfc3339(Date.now()).replaceAll(":", "-");
    const aside = join(folder, `${ASIDE}${stamp}`);
    mkdirSync(aside);
    for (const name of leftovers(folder)) renameSync(join(folder, name), join(aside, name));
    return aside;
  } finally {
    release();
  }
}

/**
 * Before a rehearsal begins: forget the one before it.
 *
 * @throws {KnownError} REHEARSAL_REFUSED where a real store lies, STORE_BUSY while another
 *   rehearsal runs
 */
export function clearRehearsal(folder: string): void {
  mkdirSync(folder, { recursive: true });
  if (existsSync(join(folder, PACE_FILE))) {
    const release = claimFolder(folder);
    for (const name of leftovers(folder)) rmSync(join(folder, name), { recursive: true });
    release();
  } else if (existsSync(storeFileIn(folder)))
    throw new KnownError(
      "REHEARSAL_REFUSED",
      `${folder} holds a real store, which a rehearsal would spoil; rehearse in another folder`,
    );
}

function leftovers(folder: string): string[] {
  return readdirSync(folder).filter((name) => !STAYS.test(name) && !name.startsWith(ASIDE));
}
