import { entriesThatHold } from "../../rules/year/journal-view.js";
import type { Entry } from "../../shared/journal.js";
import type { Annotation, Stretch } from "../drawing/material.js";
import { actWords } from "../journal/entry-words.js";
import { oneLine } from "../letters/one-line.js";
import type { Store } from "../store/records.js";

/** What the keeper wrote down of a chamber in a stretch, as pictures show it; oldest first. */
export function annotationsOf(
  store: Pick<Store, "journal">,
  chamberId: string,
  { fromMs, toMs }: Stretch,
): Annotation[] {
  return entriesThatHold(store.journal.soFar().entries)
    .filter((entry) => entry.atMs >= fromMs && entry.atMs < toMs && concerns(entry, chamberId))
    .map((entry) => ({ atMs: entry.atMs, kind: signOf(entry), text: wordsOf(entry) }));
}

function concerns({ chamberId, act }: Entry, wanted: string): boolean {
  const isInto = act.kind === "moved" && act.toChamberId === wanted;
  return isInto || chamberId === wanted || (chamberId === null && act.kind === "bloom");
}

function signOf({ act }: Entry): Annotation["kind"] {
  switch (act.kind) {
    case "damped":
    case "aired":
      return act.kind;
    case "inspected":
    case "bloom":
      return "seen";
    case "moved":
    case "weighed":
    case "opened":
    case "lost":
    case "released":
    case "ended":
      return "lot";
    default:
      return "other";
  }
}

function wordsOf(entry: Entry): string {
  const lot = entry.lotId === null ? "" : `lot ${oneLine(entry.lotId, 30)}: `;
  const own = entry.words === "" ? "" : ` (${oneLine(entry.words, 60)})`;
  return `${lot}${actWords(entry)}${own}`;
}
