import { outranks } from "../../shared/excursion.js";
import { html, type Markup } from "../html.js";
import { adviceFor } from "../letters/cause-advice.js";
import { oneLine } from "../letters/one-line.js";
import { inkOf, QUIET } from "./inks.js";
import type { Address, Look } from "./look.js";
import type { Annotation, ExcursionMark } from "./material.js";
import { signOf } from "./signs.js";
import { fitted, round, written } from "./text.js";
import { excursionWords, shortMomentWords } from "./words.js";

/** A line under a month or a course, in order of time. */
export type Note =
  | Readonly<{ atMs: number; key: string; excursion: ExcursionMark }>
  | Readonly<{ atMs: number; annotation: Annotation }>;

const NOTE_PX = 15;
const SIZE_PX = 11;
const KEYS = "abcdefghijklmnopqrstuvwxyz";

/** Excursions that are only counted: they belong to every fridge's day. */
export const isOrdinary = ({ cause, urgency }: ExcursionMark): boolean =>
  urgency === "note" && (cause === "opening" || cause === "defrost");

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
  const mattering = excursions.filter((mark) => !isOrdinary(mark));
  const most = Math.min(mostNotes, KEYS.length);
  const kept = mattering.toSorted(byGravity).slice(0, most);
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
  return { notes, left: mattering.length - kept.length };
}

function byGravity(a: ExcursionMark, b: ExcursionMark): number {
  if (a.urgency !== b.urgency) return outranks(a.urgency, b.urgency) ? -1 : 1;
  const took = ({ cost }: ExcursionMark) => cost.degreeHoursAbove + cost.degreeHoursBelow;
  return took(b) - took(a);
}

/** The ink of an excursion's direction; grey for a probe's fault, which has none. */
export function inkOfMark({ cause }: ExcursionMark): string {
  const { direction } = adviceFor(cause);
  return direction === null ? QUIET : inkOf(direction);
}

/** What `markup` leads to, or the markup alone where there is no link. */
export function linked(look: Look, address: Address, markup: Markup, isMinor = false): Markup {
  const href = look.hrefOf?.(address) ?? null;
  // 180 days would be 180 stops of the tab key; they have their own pages in the table behind.
  return href === null
    ? markup
    : html`<a href="${href}"${isMinor && html` tabindex="-1"`}>${markup}</a>`;
}

/** Notes as lines from y down, in as many columns as have room. */
export function drawNotes(
  notes: readonly Note[],
  at: Readonly<{ x: number; y: number; widthPx: number; columns: number }>,
  chamberId: string,
  look: Look,
): Markup {
  const perColumn = Math.ceil(notes.length / at.columns);
  const columnPx = at.widthPx / at.columns;
  return html`${notes.map((note, i) => {
    const x = at.x + Math.floor(i / perColumn) * columnPx;
    const y = at.y + (i % perColumn) * NOTE_PX;
    return drawNote(note, { x, y, widthPx: columnPx - 8 }, chamberId, look);
  })}`;
}

function drawNote(
  note: Note,
  { x, y, widthPx }: Readonly<{ x: number; y: number; widthPx: number }>,
  chamberId: string,
  look: Look,
): Markup {
  const when = shortMomentWords(note.atMs, look);
  const baseline = y + SIZE_PX;
  const body = (words: string) =>
    written(fitted(`${when}  ${words}`, SIZE_PX, widthPx - 14), x + 14, baseline);
  if ("annotation" in note) {
    const { kind, text } = note.annotation;
    return html`${signOf(kind, x + 4, y + SIZE_PX / 2 + 2)}${body(oneLine(text, 80))}`;
  }
  const { excursion, key } = note;
  const words = excursionWords(excursion, look.unit);
  const line = html`<title>${when}: ${words}</title>${keyOf(key, excursion, x, baseline)}${body(words)}`;
  const address: Address = { kind: "excursion", chamberId, id: excursion.id };
  return linked(look, address, line);
}

/** The letter that stands for an excursion, in its ink. */
export function keyOf(key: string, mark: ExcursionMark, x: number, baseline: number): Markup {
  return written(key, x, baseline, { ink: inkOfMark(mark), bold: true, italic: true, sizePx: 12 });
}

/** How high these notes are in so many columns, px. */
export const notesPx = (count: number, columns: number): number =>
  round(Math.ceil(count / columns) * NOTE_PX);
