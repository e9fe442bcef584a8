import { html, type Markup } from "../html.js";
import { oneLine } from "../letters/one-line.js";
import { type Look, TWO_COLUMNS_PX } from "./look.js";
import { keyOf, linked } from "./marking.js";
import type { Note } from "./notes.js";
import { signOf } from "./signs.js";
import { textPx, written } from "./text.js";
import { excursionWords, shortMomentWords } from "./words.js";

const SIZE_PX = 11;
const LINE_PX = 14.5;
const BETWEEN_PX = 2;
/** Room for the key or sign before a note. */
const KEY_PX = 14;
const COLUMN_GAP_PX = 12;
const MOST_LINES = 3;

/** Notes laid out: how high they are, and what draws them from some level down. */
export type LaidNotes = Readonly<{ heightPx: number; draw: (y: number) => Markup }>;

type Laid = Readonly<{ note: Note; words: string; lines: readonly string[]; heightPx: number }>;

/** Lay notes out from `x` to the right edge, in two columns where there is room for them. */
export function layNotes(
  notes: readonly Note[],
  x: number,
  chamberId: string,
  look: Look,
): LaidNotes {
  const count = look.widthPx >= TWO_COLUMNS_PX && notes.length > 1 ? 2 : 1;
  const columnPx = (look.widthPx - x) / count;
  const laid = notes.map((note) => layNote(note, columnPx - KEY_PX - COLUMN_GAP_PX, look));
  const perColumn = Math.ceil(laid.length / count);
  const columns = [laid.slice(0, perColumn), laid.slice(perColumn)];
  const heightOf = (column: readonly Laid[]) => column.reduce((sum, one) => sum + one.heightPx, 0);
  return {
    heightPx: Math.max(...columns.map(heightOf)),
    draw: (y) =>
      html`${columns.map((column, i) => {
        let down = y;
        return column.map((one) => {
          const drawn = drawNote(one, x + i * columnPx, down, chamberId, look);
          down += one.heightPx;
          return drawn;
        });
      })}`,
  };
}

function layNote(note: Note, widthPx: number, look: Look): Laid {
  const what =
    "annotation" in note
      ? oneLine(note.annotation.text, 120)
      : excursionWords(note.excursion, look.unit);
  const words = bound(`${shortMomentWords(note.atMs, look)}: ${what}`);
  const lines = wrapped(words, SIZE_PX, widthPx);
  return { note, words, lines, heightPx: lines.length * LINE_PX + BETWEEN_PX };
}

/** A value and its unit stay on one line. */
const bound = (words: string): string => words.replace(/(?<=\d) (?=[°%a-z]+\b|°)/g, "\u00a0");

/** Words in lines as long as fit; what would be a fourth line is cut. */
function wrapped(words: string, sizePx: number, widthPx: number): string[] {
  const lines: string[] = [];
  for (const word of words.split(" ")) {
    const line = lines.at(-1);
    if (line !== undefined && textPx(`${line} ${word}`, sizePx) <= widthPx)
      lines[lines.length - 1] = `${line} ${word}`;
    else if (lines.length < MOST_LINES) lines.push(word);
    else {
      lines[lines.length - 1] = `${line}…`;
      break;
    }
  }
  return lines;
}

function drawNote(
  { note, words, lines }: Laid,
  x: number,
  y: number,
  chamberId: string,
  look: Look,
): Markup {
  const baseline = y + SIZE_PX;
  const body = lines.map((line, i) => written(line, x + KEY_PX, baseline + i * LINE_PX));
  if ("annotation" in note)
    return html`${signOf(note.annotation.kind, x + 4, baseline - 3.5)}${body}`;
  const { excursion, key } = note;
  const all = html`<g><title>${words}</title>${keyOf(key, excursion, x, baseline)}${body}</g>`;
  return linked(look, { kind: "excursion", chamberId, id: excursion.id }, all);
}
