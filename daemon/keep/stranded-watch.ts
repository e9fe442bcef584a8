import { join } from "node:path";
import { KnownError } from "../../shared/errors.js";
import { MINUTE_MS } from "../../shared/time.js";
import type { Config } from "../config.js";
import type { Stranded } from "../intake/commit-loop.js";
import type { KeepPorts } from "../keep.js";
import type { LetterContext } from "../letters/compose.js";
import { composeUnwritable } from "../letters/compose-unwritable.js";
import { carrierTo } from "../mail/carriers.js";
import { drawNothing } from "../mail/draw-pictures.js";
import { openStrandedLetters } from "../mail/stranded-letters.js";
import type { NewLetter, Store } from "../store/store.js";

/** Our choice: a keeper is told of a disk, not of a hiccup. */
const TELL_AFTER_MS = 10 * MINUTE_MS;

/** See letters out while the store can't be written, and tell the keepers once of such a spell. */
export function watchStranded(
  { mail, keepers, store: { folder } }: Pick<Config, "mail" | "keepers" | "store">,
  store: Store,
  { clock, log }: KeepPorts,
  context: () => LetterContext,
) {
  // Pictures are drawn from the store, which is what is in trouble.
  const carrier = carrierTo(mail, join(folder, "letters"), drawNothing);
  const stranded = openStrandedLetters({ store, carrier, keepers, clock, log });
  let told: NewLetter | null = null;
  return {
    onStranded(letters: readonly NewLetter[], { forMs, error }: Stranded): void {
      if (told === null && forMs >= TELL_AFTER_MS) {
        const atMs = clock.nowMs();
        const sinceMs = Math.round(atMs - forMs);
        const isReadOnly = error instanceof KnownError && error.code === "STORE_UNWRITABLE";
        told = composeUnwritable({ atMs, sinceMs, reason: String(error), isReadOnly }, context());
      }
      stranded.send(letters, told === null ? [] : [told]);
    },
    onStored(): void {
      stranded.stored();
      told = null;
    },
    close: () => stranded.close(),
  };
}
