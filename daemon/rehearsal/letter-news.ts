import { existsSync } from "node:fs";
import { join, relative } from "node:path";
import type { Config } from "../config.js";
import { letterFileName } from "../mail/letter-file.js";
import { openStore } from "../store/store.js";

const LOOK_EVERY_MS = 500;

/**
 * Say each letter once it lies in the folder, with its subject and its file.
 *
 * It asks the store as any other process would, so that what is said is what was stored.
 */
export function followLetters(
  { store: place, site }: Config,
  say: (atMs: number, words: string) => void,
): { close(): void } {
  const store = openStore(place.folder, site, { mode: "look" });
  const said = new Set<string>();
  const look = () => {
    for (const { letter } of store.letters.between(0, Number.MAX_SAFE_INTEGER)) {
      const file = join(place.folder, "letters", letterFileName(letter));
      if (said.has(letter.id) || !existsSync(file)) continue;
      said.add(letter.id);
      say(letter.createdAtMs, `letter: ${letter.subject}\n       ${relative(process.cwd(), file)}`);
    }
  };
  const timer = setInterval(look, LOOK_EVERY_MS);
  return {
    close: () => {
      clearInterval(timer);
      look();
      store.close();
    },
  };
}
