import { html, type Markup } from "../html.js";
import { adviceFor } from "../letters/cause-advice.js";
import type { Look } from "./look.js";
import { inkOfMark, keyOf, linked } from "./marking.js";
import type { ChamberMaterial, ExcursionMark } from "./material.js";
import type { Note } from "./notes.js";
import { round } from "./text.js";

/** Height of a lane of bars with their keys, px; the bar is at its foot. */
export const BAR_LANE_PX = 13;

/** Where bars lie, px: their middle, over the temperatures and over the humidity. */
export type BarGround = Readonly<{
  look: Look;
  material: Pick<ChamberMaterial, "chamberId" | "watched">;
  along: (atMs: number) => number;
  startPx: number;
  endPx: number;
  warmthY: number;
  climateY: number;
}>;

/** Whether an excursion is one of the humidity, and so belongs to its pane. */
export function isClimate({ cause }: Pick<ExcursionMark, "cause">): boolean {
  const { direction } = adviceFor(cause);
  return direction === "damp" || direction === "dry";
}

/** From where to where an excursion lies on a drawing, cut to it, px. */
export function reachOfMark(mark: ExcursionMark, { along, startPx, endPx, material }: BarGround) {
  const from = Math.max(startPx, along(mark.startedAtMs));
  const to = Math.min(endPx, along(mark.endedAtMs ?? material.watched.toMs));
  return { from, to: Math.max(from + 1.5, to) };
}

/** Excursions as bars where they lie, each with the key of its note if it has one. */
export function drawBars(
  marks: readonly ExcursionMark[],
  notes: readonly Note[],
  ground: BarGround,
): Markup {
  const { look, material } = ground;
  const free = { warmth: 0, climate: 0 };
  return html`${marks.map((mark) => {
    const lane = isClimate(mark) ? "climate" : "warmth";
    const y = lane === "climate" ? ground.climateY : ground.warmthY;
    const { from, to } = reachOfMark(mark, ground);
    const bar = html`<path d="M${round(from)} ${round(y)}h${round(to - from)}" stroke="${inkOfMark(mark)}" stroke-width="3" fill="none"/>`;
    const note = notes.find((one) => "excursion" in one && one.excursion.id === mark.id);
    if (note === undefined || !("key" in note)) return bar;
    const x = Math.max(from, free[lane]);
    free[lane] = x + 8.5;
    const address = { kind: "excursion", chamberId: material.chamberId, id: mark.id } as const;
    return linked(look, address, html`${bar}${keyOf(note.key, mark, x, y - 3)}`, true);
  })}`;
}
