import { outranks } from "../../shared/excursion.js";
import type { Annotation, ExcursionMark } from "./material.js";

/** A line under a month or a course, in order of time. */
export type Note =
  | Readonly<{ atMs: number; key: string; excursion: ExcursionMark }>
  | Readonly<{ atMs: number; annotation: Annotation }>;

const KEYS = "abcdefghijklmnopqrstuvwxyz";

/**
 * What stands under a stretch: its gravest excursions, each with a letter of the alphabet as its
 * key, and what the keeper did. In order of time.
 *
 * @returns `left`, how many excursions found no room
 */
export function notesOf(
  excursions: readonly ExcursionMark[],
  annotations: readonly Annotation[],
  mostNotes: number,
): Readonly<{ notes: readonly Note[]; left: number }> {
  const most = Math.min(mostNotes, KEYS.length);
  const kept = excursions.toSorted(byGravity).slice(0, most);
  const inTime = kept.toSorted((a, b) => a.startedAtMs - b.startedAtMs);
  const keyed: Note[] = inTime.map((excursion, i) => ({
    atMs: excursion.startedAtMs,
    key: KEYS[i]!,
    excursion,
  }));
  const tended: Note[] = annotations
    .slice(0, mostNotes)
    .map((annotation) => ({ atMs: annotation.atMs, annotation }));
  const notes = [...keyed, ...tended].sort((a, b) => a.atMs - b.atMs);
  return { notes, left: excursions.length - kept.length };
}

function byGravity(a: ExcursionMark, b: ExcursionMark): number {
  if (a.urgency !== b.urgency) return outranks(a.urgency, b.urgency) ? -1 : 1;
  const took = ({ cost }: ExcursionMark) => cost.degreeHoursAbove + cost.degreeHoursBelow;
  return took(b) - took(a);
}
