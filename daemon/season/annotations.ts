import { entriesThatHold } from "../../rules/year/journal-view.js";
import type { Entry } from "../../shared/journal.js";
import type { Site } from "../../shared/site.js";
import { type CheckMade, standingChecks } from "../checks/record.js";
import { referenceWords, verdictWords } from "../checks/words.js";
import type { Annotation, Stretch } from "../drawing/material.js";
import { actWords } from "../journal/entry-words.js";
import { oneLine } from "../letters/one-line.js";
import type { Store } from "../store/records.js";

/** What annotations are read from. */
export type AnnotationStore = Pick<Store, "journal" | "checks">;

/**
 * What the keeper wrote down of a chamber in a stretch, and the checks of its probes that stand, as
 * pictures show them; oldest first.
 */
export function annotationsOf(
  store: AnnotationStore,
  { probes }: Pick<Site, "probes">,
  chamberId: string,
  { fromMs, toMs }: Stretch,
): Annotation[] {
  const isWithin = (atMs: number) => atMs >= fromMs && atMs < toMs;
  const ids = probes.filter((probe) => probe.chamberId === chamberId).map(({ id }) => id);
  const written = entriesThatHold(store.journal.soFar().entries)
    .filter((entry) => isWithin(entry.atMs) && concerns(entry, chamberId))
    .map((entry) => ({ atMs: entry.atMs, kind: signOf(entry), text: wordsOf(entry) }));
  const checked = standingChecks(store.checks.entries())
    .filter(({ madeAtMs, probeId }) => isWithin(madeAtMs) && ids.includes(probeId))
    .map((check) => ({ atMs: check.madeAtMs, kind: "check" as const, text: checkWords(check) }));
  return [...written, ...checked].sort((a, b) => a.atMs - b.atMs);
}

/** Without a number, since a picture is drawn in °C or °F; the page of probes has them. */
function checkWords({ probeId, quantity, reference, result }: CheckMade): string {
  const against = reference.kind === "salt" ? "a salt" : referenceWords(reference, "C");
  return `${oneLine(probeId, 30)}: ${quantity} checked against ${against}, ${verdictWords(result.asFound.verdict)}`;
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
