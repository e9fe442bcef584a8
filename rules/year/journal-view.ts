import type { Deed } from "../../shared/deed.js";
import type { Entry } from "../../shared/journal.js";

/** What the judge is to be told of a deed. */
export type ToldDeed = Readonly<{
  chamberId: string;
  atMs: number;
  deed: Deed;
  withdrawn: boolean;
}>;

/**
 * The entries that hold, in the order in which things were done: none that a later one corrects,
 * none that only takes another back.
 */
export function entriesThatHold(journal: readonly Entry[]): readonly Entry[] {
  const corrected = new Set(journal.map(({ corrects }) => corrects));
  return journal
    .filter(({ no, act }) => !corrected.has(no) && act.kind !== "withdrawn")
    .sort((a, b) => a.atMs - b.atMs || a.no - b.no);
}

/**
 * All deeds of a journal as the judge is to be told them. What no longer holds comes first, as
 * withdrawn; told once or many times, they leave the judge with the same memory.
 */
export function deedsToTell(journal: readonly Entry[]): readonly ToldDeed[] {
  const holding = entriesThatHold(journal);
  const holds = new Set(holding);
  const told = holding.flatMap((entry) => deedsOf(entry, false));
  const still = new Set(told.map(nameOf));
  const withdrawn = journal
    .filter((entry) => !holds.has(entry))
    .flatMap((entry) => deedsOf(entry, true))
    // Two lots damped at one time are one deed in their chamber; one of them may still hold.
    .filter((deed) => !still.has(nameOf(deed)));
  return [...withdrawn, ...told];
}

const nameOf = ({ chamberId, atMs, deed }: ToldDeed): string => `${chamberId} ${deed} ${atMs}`;

function deedsOf({ chamberId, atMs, act }: Entry, withdrawn: boolean): readonly ToldDeed[] {
  const told = (...deeds: Deed[]): readonly ToldDeed[] =>
    chamberId === null ? [] : deeds.map((deed) => ({ chamberId, atMs, deed, withdrawn }));
  switch (act.kind) {
    case "damped":
    case "aired":
    case "paper-changed":
    case "cleaned":
      return told(act.kind);
    case "inspected":
      return told("inspected", act.seen.includes("mould") ? "mould-seen" : "no-mould");
    case "moved":
      return act.toChamberId === null
        ? told("moved")
        : [{ chamberId: act.toChamberId, atMs, deed: "moved", withdrawn }];
    default:
      return [];
  }
}
