import { formatRfc3339 } from "../../shared/rfc3339.js";
import type { Clock } from "../clock.js";
import type { Log } from "../mqtt/arrival-desk.js";
import type { Store } from "../store/store.js";

/** Parts of Drowse that reach beyond the board, and whose trouble `drowse now` tells. */
const PARTS = ["broker", "heartbeat"] as const;
type Part = (typeof PARTS)[number];

/** What does not work at present. */
export type Trouble = Readonly<{ part: Part; since: string; said: string }>;

const keyOf = (part: Part) => `trouble/${part}`;

/**
 * Note in the store what of Drowse does not work, for other processes to read; null when it works
 * again. Written only when it changes. Never throws: a store that fails is told by itself.
 */
export function noteTrouble(
  { store, clock, log }: Readonly<{ store: Store; clock: Clock; log: Log }>,
  part: Part,
  said: string | null,
): void {
  try {
    const before = read(store, part);
    if ((before?.said ?? null) === said) return;
    const since = before?.since ?? formatRfc3339(clock.nowMs());
    store.board.note(keyOf(part), said === null ? "" : JSON.stringify({ since, said }));
  } catch (error) {
    log.error({ error: String(error) }, `trouble of the ${part} could not be noted: ${said}`);
  }
}

/** What does not work, as last noted. */
export function readTroubles(store: Pick<Store, "board">): Trouble[] {
  return PARTS.flatMap((part) => {
    const noted = read(store, part);
    return noted === null ? [] : [{ part, ...noted }];
  });
}

function read({ board }: Pick<Store, "board">, part: Part): Omit<Trouble, "part"> | null {
  const text = board.read(keyOf(part)) ?? "";
  return text === "" ? null : JSON.parse(text);
}
