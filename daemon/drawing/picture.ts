import { html, type Markup } from "../html.js";
import { FONT, INK } from "./inks.js";
import type { Look } from "./look.js";
import { round } from "./text.js";

/** The words that stand for a picture: its name, and what it shows. */
export type Caption = Readonly<{ title: string; desc: string }>;

/**
 * A whole drawing around its parts, with the hatchings they need unless another drawing has them.
 *
 * Without links it is one image to a reader of the page aloud. With links it is a group, since
 * what lies in an image cannot be reached (WAI-ARIA 1.2: the children of `img` are presentational).
 */
export function picture(
  look: Look,
  heightPx: number,
  { title, desc }: Caption,
  parts: Markup,
  hatches: Markup | null,
): Markup {
  const { idPrefix, widthPx } = look;
  const role = look.hrefOf === null ? "img" : "group";
  return html`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${round(widthPx)} ${Math.ceil(heightPx)}" width="${round(widthPx)}" height="${Math.ceil(heightPx)}" role="${role}" aria-labelledby="${idPrefix}-title" aria-describedby="${idPrefix}-desc" font-family="${FONT}" font-size="11" fill="${INK}"><title id="${idPrefix}-title">${title}</title><desc id="${idPrefix}-desc">${desc}</desc>${hatches}${parts}</svg>`;
}
