import { html, type Markup } from "../html.js";
import { adviceFor } from "../letters/cause-advice.js";
import { inkOf, QUIET } from "./inks.js";
import type { Address, Look } from "./look.js";
import type { ExcursionMark } from "./material.js";
import { written } from "./text.js";

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

/** The letter that stands for an excursion, in its ink. */
export function keyOf(key: string, mark: ExcursionMark, x: number, baseline: number): Markup {
  return written(key, x, baseline, { ink: inkOfMark(mark), bold: true, italic: true, sizePx: 12 });
}
