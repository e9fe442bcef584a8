import { html, type Markup } from "../html.js";
import { numberWords, spanWords } from "../letters/temperature-words.js";
import { QUIET, RULE } from "./inks.js";
import { linked } from "./marking.js";
import type { Course } from "./material.js";
import { weekdayOf } from "./sheet-rows.js";
import type { Levels, StaveMatter } from "./stave.js";
import { round } from "./text.js";
import { dayNumber, shortDayWords } from "./words.js";

/** Days at least this wide are named with their weekday, and these with a number each. */
const NAMED_PX = 40;
const NUMBERED_PX = 20;
/** A day narrower than this is no target to touch. WCAG 2.2, success criterion 2.5.8. */
const TOUCHED_PX = 24;

/** A line where each week begins; where each day does, if days are wide. */
export function drawWeekLines({ row, along, frame }: StaveMatter, { pane, foot }: Levels): Markup {
  const starts = row.dayStarts.slice(0, -1);
  const monday = (7 - weekdayOf(starts[0]!, frame.look)) % 7;
  const isWide = frame.pxPerDay >= NAMED_PX;
  const lines = starts
    .filter((_, i) => isWide || i % 7 === monday)
    .map((atMs) => `M${round(along(atMs))} ${round(pane)}V${round(foot)}`);
  return html`<path d="${lines.join("")}" stroke="${RULE}" stroke-width=".7" fill="none"/>`;
}

/** The days' numbers, and each day as a part that says what it was and leads to its page. */
export function drawDays(matter: StaveMatter, levels: Levels): Markup {
  const { row, along, frame } = matter;
  const { look, material, pxPerDay } = frame;
  const days = row.dayStarts.slice(0, -1).map((fromMs, i) => ({
    fromMs,
    toMs: row.dayStarts[i + 1]!,
    number: Number(dayNumber(fromMs, look)),
  }));
  const shown = days.filter(
    ({ number }) => pxPerDay >= NUMBERED_PX || number === 1 || number % 5 === 0,
  );
  const labels = shown.map(({ fromMs, toMs, number }) => {
    const x = round((along(fromMs) + along(toMs)) / 2);
    const words = pxPerDay >= NAMED_PX ? shortDayWords(fromMs, look).slice(0, 6).trim() : number;
    return html`<text x="${x}" y="${round(levels.foot + 11)}">${words}</text>`;
  });
  const { watched } = material;
  const areas =
    pxPerDay >= TOUCHED_PX &&
    days
      .filter(({ fromMs, toMs }) => toMs > watched.fromMs && fromMs < watched.toMs)
      .map((day) => drawDay(matter, levels, day));
  return html`<g font-size="9.5" fill="${QUIET}" text-anchor="middle">${labels}</g><g fill="none" pointer-events="all">${areas}</g>`;
}

function drawDay(
  { frame, along, cocoons, humidity }: StaveMatter,
  { pane, foot }: Levels,
  { fromMs, toMs }: Readonly<{ fromMs: number; toMs: number }>,
): Markup {
  const { look, material } = frame;
  const [from, wide] = [Math.round(along(fromMs)), Math.round(along(toMs) - along(fromMs))];
  const [warmth, damp] = [cocoons, humidity].map((course) => extent(course, fromMs, toMs));
  const told = [
    warmth ? spanWords(warmth, look.unit) : "cocoons not known",
    damp && `${roundSpan(damp)} %RH`,
  ];
  const title = `${shortDayWords(fromMs, look)}: ${told.filter(Boolean).join(", ")}`;
  const area = html`<path d="M${from} ${Math.round(pane)}h${wide}V${Math.round(foot)}h-${wide}z"><title>${title}</title></path>`;
  const address = { kind: "day", chamberId: material.chamberId, atMs: fromMs } as const;
  return linked(look, address, area, true);
}

function roundSpan({ low, high }: Readonly<{ low: number; high: number }>): string {
  const [from, to] = [numberWords(low, 0), numberWords(high, 0)];
  return from === to ? from : `${from} to ${to}`;
}

/** Lowest and highest that a course reached in a stretch; null where nothing is known. */
function extent(course: Course, fromMs: number, toMs: number) {
  let [low, high] = [Infinity, -Infinity];
  for (const piece of course) {
    if (piece.fromMs >= toMs) break;
    if (piece.toMs <= fromMs) continue;
    low = Math.min(low, piece.low);
    high = Math.max(high, piece.high);
  }
  return low <= high ? { low, high } : null;
}
