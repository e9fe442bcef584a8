import { html, type Markup } from "../html.js";
import { hatched } from "./hatching.js";
import { QUIET } from "./inks.js";
import { inkOfMark, keyOf, linked } from "./marking.js";
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

/** Excursions as bars over the pane where they lie, each with its key. */
export function drawMarks(matter: StaveMatter, { pane }: Levels): Markup {
  const { excursions, notes, along, frame, row } = matter;
  const { chamberId, watched } = frame.material;
  const [startPx, endPx] = [along(row.span.fromMs), along(row.span.toMs)];
  let free = 0;
  const bars = excursions.map((mark) => {
    const from = Math.max(startPx, along(mark.startedAtMs));
    const wide = Math.min(endPx, along(mark.endedAtMs ?? watched.toMs)) - from;
    const bar = html`<path d="M${round(from)} ${round(pane - 2)}h${round(Math.max(1.5, wide))}" stroke="${inkOfMark(mark)}" stroke-width="3" fill="none"/>`;
    const note = notes.find((one) => "excursion" in one && one.excursion.id === mark.id);
    if (note === undefined || !("key" in note)) return bar;
    const x = Math.max(from, free);
    free = x + 8;
    const both = html`${bar}${keyOf(note.key, mark, x, pane - 5)}`;
    return linked(frame.look, { kind: "excursion", chamberId, id: mark.id }, both, true);
  });
  return html`${bars}`;
}
