import { html, type Markup } from "../html.js";
import type { Direction } from "../letters/body.js";
import { HATCHING_DEG } from "../letters/palette.js";
import { inkOf, QUIET } from "./inks.js";

/** Distance between strokes and their width, px: apart enough to tell in grey at arm's length. */
const STROKES: Readonly<Record<Direction, readonly [apart: number, wide: number]>> = {
  warm: [4, 1.9],
  cold: [4, 1.2],
  damp: [3.2, 1.1],
  dry: [3.2, 1.1],
};
const UNSEEN_APART = 6;

/** What may be hatched. */
export type Hatch = Direction | "unseen";

/** The `fill` of something hatched, in a drawing with these ids. */
export const hatched = (idPrefix: string, hatch: Hatch): string => `url(#${idPrefix}-${hatch})`;

/**
 * Every hatching as an SVG pattern: a pale wash of the ink with strokes at the direction's angle.
 * What was not seen is crossed both ways in grey, as no direction is.
 */
export function hatchings(idPrefix: string): Markup {
  const directions = Object.keys(STROKES) as Direction[];
  return html`<defs>${directions.map((direction) => {
    const [apart, wide] = STROKES[direction];
    const ink = inkOf(direction);
    return html`<pattern id="${idPrefix}-${direction}" patternUnits="userSpaceOnUse" width="${apart}" height="${apart}" patternTransform="rotate(${HATCHING_DEG[direction]})"><rect width="${apart}" height="${apart}" fill="${ink}" fill-opacity=".2"/><path d="M0 ${apart / 2}h${apart}" stroke="${ink}" stroke-width="${wide}"/></pattern>`;
  })}<pattern id="${idPrefix}-unseen" patternUnits="userSpaceOnUse" width="${UNSEEN_APART}" height="${UNSEEN_APART}"><path d="M0 0l${UNSEEN_APART} ${UNSEEN_APART}M0 ${UNSEEN_APART}l${UNSEEN_APART}-${UNSEEN_APART}" stroke="${QUIET}" stroke-width=".6"/></pattern></defs>`;
}
