import { shareWords } from "../digest/reason-words.js";
import { html, type Markup } from "../html.js";
import { oneLine } from "../letters/one-line.js";
import { spanWords } from "../letters/temperature-words.js";
import { dateWords } from "../letters/time-words.js";
import { contentKey } from "./content-key.js";
import { courseWithin } from "./course-runs.js";
import { type Hatch, hatchings } from "./hatching.js";
import { QUIET } from "./inks.js";
import { drawLegend } from "./legend.js";
import type { Look } from "./look.js";
import type { Stretch, WinterMaterial } from "./material.js";
import { type Caption, picture } from "./picture.js";
import { frameSheet } from "./sheet-frame.js";
import { monthRows, type Row, weekRows } from "./sheet-rows.js";
import { drawStave, inBandShare } from "./stave.js";
import { round } from "./text.js";

/** Days along a stave of the winter, and of a month. */
const MONTH_DAYS = 31;
const WEEK_DAYS = 7;

/**
 * The winter sheet: each month a stave, days along it, so that a winter reads like a page.
 *
 * The cocoons' temperature runs as a thread along its band. What lies beyond the band is hatched,
 * and since all degrees are as high and all days as wide, the hatched area is degree-hours. A calm
 * month is thin, a bad one swells. Beneath lie openings, what the keeper did, and humidity; notes
 * under each month say what its keyed excursions were and took. Pure; never throws.
 */
export function drawWinterSheet(material: WinterMaterial, look: Look): Markup {
  const rows = monthRows(material.span, material.chamberId, look);
  return drawSheet(material, look, rows, MONTH_DAYS);
}

/** A month of a winter as a drawing of its own, not drawn yet. */
type MonthDrawing = Readonly<{
  monthMs: number;
  /** The same only where the drawing is, but for where its links lead. */
  key: string;
  draw(): Markup;
}>;

/**
 * The same with a drawing for each month, oldest first: a page may set them in its own order, and
 * paper can break between them. They share their hatchings, which lie in the first, so they are to
 * be shown or hidden together.
 *
 * @param beside other winters that are drawn beside this one, to the same scales
 */
export function drawMonths(
  material: WinterMaterial,
  look: Look,
  beside: readonly WinterMaterial[] = [],
): readonly MonthDrawing[] {
  const frame = frameSheet(material, look, MONTH_DAYS, beside);
  return monthRows(material.span, material.chamberId, look).map((row, i) => {
    const within = { ...material, ...partOf(material, row.span) };
    const { cocoons, humidity, ...others } = within;
    const { material: _, look: __, ...scales } = frame;
    return {
      monthMs: row.span.fromMs,
      key: contentKey([cocoons, humidity], { row, others, scales, look, isFirst: i === 0 }),
      draw: () => {
        const { heightPx, markup } = drawStave({ ...frame, material: within }, row, 0);
        const own = { ...look, idPrefix: `${look.idPrefix}-${i}` };
        const hatches = i === 0 ? hatchings(look.idPrefix) : null;
        const begun = within.excursions.filter(({ startedAtMs }) => startedAtMs >= row.span.fromMs);
        const caption = captionOf({ ...within, excursions: begun }, look);
        return picture(own, heightPx, caption, markup, hatches);
      },
    };
  });
}

/**
 * All months, and the legend last.
 *
 * @param keep gives a drawing of the same key that was made before, or lets it be drawn
 */
export const drawWinterStaves = (
  material: WinterMaterial,
  look: Look,
  keep: (key: string, draw: () => Markup) => Markup = (_, draw) => draw(),
): readonly Markup[] => [
  ...drawMonths(material, look).map(({ key, draw }) => keep(key, draw)),
  drawSheetLegend(look),
];

/** What the hatchings mean, for months whose hatchings have the same ids. */
export function drawSheetLegend(look: Look): Markup {
  const legend = legendOf(look, { x: 0, y: 0 });
  const own = { ...look, idPrefix: `${look.idPrefix}-legend`, hrefOf: null };
  return picture(own, legend.heightPx, LEGEND_CAPTION, legend.markup, null);
}

const LEGEND_CAPTION: Caption = {
  title: "What the hatchings mean",
  desc: "Rust is warmer than the band, blue colder; moss is damper, straw drier; crossed is not seen.",
};

/** What lies within a stretch: all of a winter that the drawing of the stretch shows. */
function partOf(material: WinterMaterial, span: Stretch) {
  const { fromMs, toMs } = span;
  const { cocoons, humidity, excursions, unseen, annotations, openingsMs, defrostsMs } = material;
  const { watched } = material;
  const isWithin = (atMs: number) => atMs >= fromMs && atMs < toMs;
  return {
    span,
    // Of a month that is over it does not matter how long the watch has gone on since.
    watched: { fromMs: Math.max(fromMs, watched.fromMs), toMs: Math.min(toMs, watched.toMs) },
    cocoons: courseWithin(cocoons, fromMs, toMs),
    humidity: courseWithin(humidity, fromMs, toMs),
    excursions: excursions.filter(
      ({ startedAtMs, endedAtMs }) =>
        startedAtMs < toMs && (endedAtMs === null || endedAtMs > fromMs),
    ),
    unseen: unseen.filter((one) => one.fromMs < toMs && one.toMs > fromMs),
    annotations: annotations.filter(({ atMs }) => isWithin(atMs)),
    openingsMs: openingsMs.filter(isWithin),
    defrostsMs: defrostsMs.filter(isWithin),
  };
}

/** A month, or any stretch of weeks, drawn likewise with each week a stave. */
export function drawMonthSheet(material: WinterMaterial, look: Look): Markup {
  return drawSheet(material, look, weekRows(material.span, look), WEEK_DAYS);
}

function drawSheet(
  material: WinterMaterial,
  look: Look,
  rows: readonly Row[],
  daysAlong: number,
): Markup {
  const frame = frameSheet(material, look, daysAlong);
  let y = 0;
  const staves = rows.map((row) => {
    const stave = drawStave(frame, row, y);
    y += stave.heightPx;
    return stave.markup;
  });
  const legend = legendOf(look, { x: frame.leftPx, y });
  const parts = html`${staves}${legend.markup}`;
  const caption = captionOf(material, look);
  return picture(look, y + legend.heightPx, caption, parts, hatchings(look.idPrefix));
}

const HATCHES: readonly Hatch[] = ["warm", "cold", "damp", "dry", "unseen"];

const legendOf = (look: Look, at: Readonly<{ x: number; y: number }>) =>
  drawLegend(HATCHES, [{ sign: tick, words: "an opening" }], look, at);

const tick = (x: number, y: number): Markup =>
  html`<path d="M${round(x + 4)} ${round(y - 7)}v5m3-5v5" stroke="${QUIET}" stroke-width=".8"/>`;

/** What a sheet shows, in words. */
function captionOf(material: WinterMaterial, look: Look): Caption {
  const { siteName, chamberId, span, bandC, cocoons, excursions, unseen } = material;
  const place = `${oneLine(chamberId, 60)}, ${oneLine(siteName, 80)}`;
  const [from, to] = [span.fromMs, span.toMs - 1].map((ms) => dateWords(ms, look.timezone));
  const share = inBandShare(cocoons, bandC);
  const low = cocoons.reduce((least, piece) => Math.min(least, piece.low), Infinity);
  const high = cocoons.reduce((most, piece) => Math.max(most, piece.high), -Infinity);
  const events = excursions.length;
  const felt =
    share === null
      ? "Nothing is known of the cocoons."
      : `Cocoons from ${spanWords({ low, high }, look.unit)}, ${shareWords(share)} of the time within ${spanWords(bandC, look.unit)}.`;
  const told = events === 0 ? "No excursion." : `Excursions: ${events}.`;
  const dark = unseen.length === 0 ? "" : ` Stretches not seen: ${unseen.length}.`;
  return { title: `${place}, ${from} to ${to}`, desc: `${felt} ${told}${dark}` };
}
