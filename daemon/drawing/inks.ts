import type { Direction } from "../letters/body.js";
import { DAYLIGHT, type Inks } from "../letters/palette.js";

/*
 * Inks as presentation attributes take them: a custom property of the page, so that it may be
 * dark, with the colour by daylight where there is none, as on paper and in a PNG.
 */

const DIRECTIONS: readonly Direction[] = ["warm", "cold", "damp", "dry"];

export const PAPER = `var(--paper,${DAYLIGHT.paper})`;
export const INK = `var(--ink,${DAYLIGHT.ink})`;
export const QUIET = `var(--quiet,${DAYLIGHT.quiet})`;
export const RULE = `var(--rule,${DAYLIGHT.rule})`;
export const INSET = `var(--inset,${DAYLIGHT.inset})`;
export const FONT = "var(--drawing-font,DejaVu Sans Condensed,sans-serif)";

/** The ink of a direction. */
export const inkOf = (direction: Direction): string =>
  `var(--${direction},${DAYLIGHT.directions[direction]})`;

/** Declarations that give a page these inks, for a rule such as `:root{…}`. */
export function inkProperties({ paper, ink, quiet, rule, inset, directions }: Inks): string {
  const plain = { paper, ink, quiet, rule, inset };
  return [
    ...Object.entries(plain),
    ...DIRECTIONS.map((direction) => [direction, directions[direction]]),
  ]
    .map(([name, colour]) => `--${name}:${colour}`)
    .join(";");
}

/** A drawing with every custom property replaced by what it falls back to. */
export function withoutProperties(svg: string): string {
  return svg.replace(/var\(--[a-z-]+,([^()]*)\)/g, "$1");
}
