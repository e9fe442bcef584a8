import { html, type Markup } from "../html.js";
import { INK, inkOf, PAPER } from "./inks.js";
import type { Annotation } from "./material.js";

type Kind = Annotation["kind"];

/** Height and width that a sign takes, px. */
export const SIGN_PX = 10;

/** Each about (0, 0), our own: what one has in the hand when doing it. */
const OUTLINES: Readonly<Record<Kind, string>> = {
  // A drop.
  damped: "M0-4.5c2.2 3 3 4 3 5.6a3 3 0 0 1-6 0c0-1.6.8-2.6 3-5.6z",
  // Two vents.
  aired: "M-4-1.5c2-2.5 3.5 1.5 5.5-.7M-3 2.5c2-2.5 3.5 1.5 5.5-.7",
  // A reference beside the probe: two rules and what lies between.
  check: "M-4-3.5v7M4-3.5v7M-4 0h8",
  // A cocoon, lying.
  lot: "M-4.5 0c0-2 2-3 4.5-3s4.5 1 4.5 3-2 3-4.5 3-4.5-1-4.5-3zM-1-2.8v5.6",
  // A lens.
  seen: "M-1-1m-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0M1.3 1.3l3 3",
  other: "M-1.6-1.6h3.2v3.2h-3.2z",
};

const FILLS: Readonly<Record<Kind, string>> = {
  damped: inkOf("damp"),
  aired: "none",
  check: "none",
  lot: PAPER,
  seen: PAPER,
  other: INK,
};

/** The sign of what a keeper did or noted, its middle at (x, y), px. */
export function signOf(kind: Kind, x: number, y: number): Markup {
  const at = [x, y].map((value) => Math.round(value * 10) / 10).join(" ");
  const ink = kind === "damped" ? inkOf("damp") : INK;
  return html`<path transform="translate(${at})" d="${OUTLINES[kind]}" fill="${FILLS[kind]}" stroke="${ink}" stroke-width="1.1" stroke-linecap="round"/>`;
}
