import type { Act, Entry } from "../../../shared/journal.js";

/** Entries in the order in which they are made, numbered from 1. */
export function journalOf(
  ...entries: (Partial<Omit<Entry, "act" | "no">> & { at: string; act: Act })[]
): Entry[] {
  return entries.map(({ at, ...rest }, i) => ({
    no: i + 1,
    atMs: Date.parse(at.length === 10 ? `${at}T12:00:00Z` : at),
    writtenAtMs: Date.parse("2026-06-01T00:00:00Z") + i,
    chamberId: "shed",
    lotId: null,
    words: "",
    corrects: null,
    ...rest,
  }));
}
