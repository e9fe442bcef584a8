import { html, type Markup } from "../html.js";
import { INK, PAPER, QUIET } from "./inks.js";

/** Mean width of a character of the drawing's font, in parts of its size; a bound, not exact. */
const CHARACTER_WIDE = 0.53;

/** About how wide a text will be, px. */
export const textPx = (text: string, sizePx: number): number =>
  Array.from(text).length * sizePx * CHARACTER_WIDE;

/** How a text is set; anything left out is plain. */
export type Setting = Readonly<{
  sizePx?: number;
  ink?: string;
  anchor?: "start" | "middle" | "end";
  bold?: boolean;
  italic?: boolean;
  /** Whether paper shows around the letters, for words that stand on lines and hatching. */
  halo?: boolean;
}>;

/** A line of text, its baseline at y. */
export function written(text: string, x: number, y: number, setting: Setting = {}): Markup {
  const { sizePx, ink, anchor = "start", bold, italic, halo } = setting;
  return html`<text x="${round(x)}" y="${round(y)}"${sizePx !== undefined && html` font-size="${sizePx}"`}${ink !== undefined && ink !== INK && html` fill="${ink}"`}${anchor !== "start" && html` text-anchor="${anchor}"`}${bold && html` font-weight="bold"`}${italic && html` font-style="italic"`}${halo && html` paint-order="stroke" stroke="${PAPER}" stroke-width="3" stroke-linejoin="round"`}>${text}</text>`;
}

/** The same, quieter and smaller, for scales. */
export const noted = (text: string, x: number, y: number, setting: Setting = {}): Markup =>
  written(text, x, y, { sizePx: 10, ink: QUIET, ...setting });

/** A length as a drawing writes it, to a tenth of a pixel. */
export const round = (px: number): number => Math.round(px * 10) / 10;
