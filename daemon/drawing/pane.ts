import type { Span } from "../../shared/site.js";
import { html, type Markup } from "../html.js";
import type { Direction } from "../letters/body.js";
import { beyond, coarsened, lineOf, type Moment, runsOf } from "./course-runs.js";
import { hatched } from "./hatching.js";
import { INK, INSET, inkOf, RULE } from "./inks.js";
import type { Course, Piece } from "./material.js";
import { type Place, pathData, simplified } from "./path.js";
import { round } from "./text.js";

/** The reach about the thread is soft: it is drawn less exactly, and where allowed, coarser. */
const SOFT_PIECES = 2;
const SOFT_WITHIN_PX = 1;

/** A course against its band: where it lies on the drawing, and how it is inked. */
export type Pane = Readonly<{
  idPrefix: string;
  course: Course;
  band: Span;
  /** Where a moment lies along, px. */
  along: (atMs: number) => number;
  /** Where a value lies down, px; the greater the value, the smaller. */
  down: (value: number) => number;
  /** What it means to be above and below the band. */
  over: Direction;
  under: Direction;
  /** The stretch along which the band is shown, px; null for none of it. */
  bandPx: Span | null;
  /** Length of a piece of the thread, and the moment from which such pieces are counted. */
  threadMs: number;
  fromMs: number;
  threadWidePx: number;
  threadInk?: string;
  /** Whether neither the hatched area nor the reach need be exact. */
  isSoft?: boolean;
}>;

/** The band as a strip: what is inside it needs no ink. */
export function drawBand({ bandPx, band, down }: Pane): Markup | null {
  if (bandPx === null) return null;
  const [top, bottom, wide] = [down(band.high), down(band.low), bandPx.high - bandPx.low];
  const edges = `M${round(bandPx.low)} ${round(top)}h${round(wide)}M${round(bandPx.low)} ${round(bottom)}h${round(wide)}`;
  return html`<rect x="${round(bandPx.low)}" y="${round(top)}" width="${round(wide)}" height="${round(bottom - top)}" fill="${INSET}"/><path d="${edges}" stroke="${RULE}" fill="none"/>`;
}

/** What lies beyond the band, hatched: its area is degrees (or per cent) times hours. */
export function drawBeyond(pane: Pane): Markup {
  const { idPrefix, band, over, under } = pane;
  const sides = [
    { side: "above", edge: band.high, direction: over },
    { side: "below", edge: band.low, direction: under },
  ] as const;
  const course = pane.isSoft ? coarsened(pane.course, pane.fromMs, pane.threadMs) : pane.course;
  const lines = runsOf(course).map((run) => lineOf(run, ({ mean }) => mean));
  return html`${sides.map(({ side, edge, direction }) => {
    const parts = lines.flatMap((line) => beyond(line, edge, side));
    const data = parts.map((part) => pathData(placed(part, pane), "z")).join("");
    return (
      data !== "" &&
      html`<path d="${data}" fill="${hatched(idPrefix, direction)}" stroke="${inkOf(direction)}" stroke-width=".7"/>`
    );
  })}`;
}

/** The thread: its mean as a line, and about it, coarser, how far it reached. */
export function drawThread(pane: Pane): Markup {
  const { course, threadMs, fromMs, threadWidePx, threadInk = INK } = pane;
  const lines = (lengthMs: number, read: (piece: Piece) => number, withinPx?: number) =>
    runsOf(coarsened(course, fromMs, lengthMs)).map((run) =>
      placed(lineOf(run, read), pane, withinPx),
    );
  const means = lines(threadMs, ({ mean }) => mean);
  if (means.length === 0) return html``;
  const reachMs = (pane.isSoft ? SOFT_PIECES : 1) * threadMs;
  const bottoms = lines(reachMs, ({ low }) => low, SOFT_WITHIN_PX);
  const reach = lines(reachMs, ({ high }) => high, SOFT_WITHIN_PX).map((top, i) =>
    pathData([...top, ...bottoms[i]!.toReversed()], "z", 2),
  );
  const middle = means.map((mean) => pathData(mean));
  return html`<path d="${reach.join("")}" fill="${threadInk}" fill-opacity=".25"/><path d="${middle.join("")}" fill="none" stroke="${threadInk}" stroke-width="${threadWidePx}" stroke-linejoin="round"/>`;
}

function placed(line: readonly Moment[], { along, down }: Pane, withinPx?: number): Place[] {
  return simplified(
    line.map(([atMs, value]) => [along(atMs), down(value)] as const),
    withinPx,
  );
}
