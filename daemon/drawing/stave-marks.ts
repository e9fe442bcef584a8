import { html, type Markup } from "../html.js";
import { hatched } from "./hatching.js";
import { QUIET } from "./inks.js";
import { drawBars } from "./mark-bars.js";
import { SIGN_PX, signOf } from "./signs.js";
import type { Levels, StaveMatter } from "./stave.js";
import { round } from "./text.js";

const TICK_PX = 4;
/** Ticks nearer than this would only be a blot. */
const APART_PX = 0.8;

/** What was not seen, crossed over. */
export function drawUnseen({ frame, row, along }: StaveMatter, { pane, foot }: Levels): Markup {
  const { fromMs, toMs } = row.span;
  const parts = frame.material.unseen
    .filter((stretch) => stretch.fromMs < toMs && stretch.toMs > fromMs)
    .map((stretch) => {
      const from = round(along(Math.max(stretch.fromMs, fromMs)));
      const wide = round(along(Math.min(stretch.toMs, toMs)) - from);
      return `M${from} ${round(pane)}h${wide}V${round(foot)}h-${wide}z`;
    });
  if (parts.length === 0) return html``;
  return html`<path d="${parts.join("")}" fill="${hatched(frame.look.idPrefix, "unseen")}"><title>Not seen</title></path>`;
}

/** A fine tick for each ordinary opening. */
export function drawOpenings({ frame, along, row }: StaveMatter, { ticks }: Levels): Markup {
  let data = "";
  let lastTenths = 0;
  for (const atMs of frame.material.openingsMs) {
    if (atMs < row.span.fromMs || atMs >= row.span.toMs) continue;
    const tenths = Math.round(along(atMs) * 10);
    if (data !== "" && tenths - lastTenths < APART_PX * 10) continue;
    data +=
      data === ""
        ? `M${tenths / 10} ${round(ticks)}v${TICK_PX}`
        : `m${(tenths - lastTenths) / 10}-${TICK_PX}v${TICK_PX}`;
    lastTenths = tenths;
  }
  return html`<path d="${data}" stroke="${QUIET}" stroke-width=".7" fill="none"/>`;
}

/** The signs of what the keeper did. */
export function drawSigns({ notes, along }: StaveMatter, { signs }: Levels): Markup {
  const y = signs + SIGN_PX / 2;
  return html`${notes.map(
    (note) => "annotation" in note && signOf(note.annotation.kind, along(note.atMs), y),
  )}`;
}

/** Excursions where they lie: those of the humidity over its pane, the others above all. */
export function drawMarks(matter: StaveMatter, { pane, humidity }: Levels): Markup {
  const { excursions, notes, along, frame, row } = matter;
  return drawBars(excursions, notes, {
    look: frame.look,
    material: frame.material,
    along,
    startPx: along(row.span.fromMs),
    endPx: along(row.span.toMs),
    warmthY: pane - 2,
    climateY: humidity - 2,
  });
}
