import type { Deed } from "../shared/deed.js";

/** Deeds that mean something to the judge; all others pass it by. */
const TOLD = [
  "damped",
  "aired",
  "paper-changed",
  "inspected",
  "mould-seen",
  "no-mould",
] as const satisfies Deed[];
type ToldDeed = (typeof TOLD)[number];

/**
 * When the keeper last did or saw something in a chamber: the newest instants of each deed, Unix
 * ms, oldest first. In which order they were told of decides nothing.
 */
export type Tended = Readonly<Record<ToldDeed, readonly number[]>>;

export const UNTENDED: Tended = {
  damped: [],
  aired: [],
  "paper-changed": [],
  inspected: [],
  "mould-seen": [],
  "no-mould": [],
};

/** The last one counts; a few more are kept, in case it is taken back. */
const KEPT = 4;

/** Note a deed, or take it back; one that is known already, or was never told, changes nothing. */
export function noteDeed(tended: Tended, deed: Deed, atMs: number, withdrawn: boolean): Tended {
  if (!isTold(deed)) return tended;
  const known = tended[deed];
  if (known.includes(atMs) !== withdrawn) return tended;
  if (withdrawn) return { ...tended, [deed]: known.filter((t) => t !== atMs) };
  if (known.length === KEPT && atMs < known[0]!) return tended;
  return { ...tended, [deed]: [...known, atMs].sort((a, b) => a - b).slice(-KEPT) };
}

const isTold = (deed: Deed): deed is ToldDeed => (TOLD as readonly Deed[]).includes(deed);

/** When it was last done, up to `atMs`; null where it never was. What is dated ahead waits. */
export function lastDone(tended: Tended, deed: ToldDeed, atMs: number): number | null {
  return tended[deed].findLast((t) => t <= atMs) ?? null;
}
