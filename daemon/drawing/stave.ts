import { shareWords } from "../digest/reason-words.js";
import { html, type Markup } from "../html.js";
import { spanWords } from "../letters/temperature-words.js";
import { courseWithin } from "./course-runs.js";
import { QUIET } from "./inks.js";
import { BAR_LANE_PX, isClimate } from "./mark-bars.js";
import { linked } from "./marking.js";
import type { Course, ExcursionMark } from "./material.js";
import { type LaidNotes, layNotes } from "./note-lines.js";
import { type Note, notesOf } from "./notes.js";
import { drawBand, drawBeyond, drawThread, type Pane } from "./pane.js";
import { alongOf, MARGIN_K, MARGIN_PCT, reachOf, type SheetFrame } from "./sheet-frame.js";
import type { Row } from "./sheet-rows.js";
import { SIGN_PX } from "./signs.js";
import { drawDays, drawWeekLines } from "./stave-days.js";
import { drawMarks, drawOpenings, drawSigns, drawUnseen } from "./stave-marks.js";
import { noted, written } from "./text.js";

const HEADING_PX = 18;
const TICKS_PX = 8;
const NUMBERS_PX = 14;
const AFTER_PX = 16;
const MOST_NOTES = 8;

/** One stave of a sheet, drawn from some level down; the caller puts them under each other. */
export type Stave = Readonly<{ heightPx: number; markup: Markup }>;

/** What lies on one stave. */
export type StaveMatter = Readonly<{
  frame: SheetFrame;
  row: Row;
  along: (atMs: number) => number;
  cocoons: Course;
  humidity: Course;
  excursions: readonly ExcursionMark[];
  notes: readonly Note[];
  noteLines: LaidNotes;
  /** Excursions that found no room among the notes. */
  left: number;
}>;

/** Where the parts of a stave lie, px from the top of the sheet. */
export type Levels = Readonly<{
  top: number;
  pane: number;
  paneEnd: number;
  ticks: number;
  signs: number;
  /** The upper end of the humidity's pane. */
  humidity: number;
  /** The lower end of the lowest pane. */
  foot: number;
  notes: number;
  end: number;
}>;

/** Draw one row of a sheet. */
export function drawStave(frame: SheetFrame, row: Row, topPx: number): Stave {
  const matter = takeMatter(frame, row);
  const levels = levelsOf(matter, topPx);
  return { heightPx: levels.end - topPx, markup: assemble(matter, levels) };
}

function takeMatter(frame: SheetFrame, row: Row): StaveMatter {
  const { material } = frame;
  const { fromMs, toMs } = row.span;
  const excursions = material.excursions.filter(
    ({ startedAtMs, endedAtMs }) =>
      startedAtMs < toMs && (endedAtMs === null || endedAtMs > fromMs),
  );
  const begun = excursions.filter(({ startedAtMs }) => startedAtMs >= fromMs);
  const annotations = material.annotations.filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
  const { notes, left } = notesOf(begun, annotations, MOST_NOTES);
  return {
    frame,
    row,
    along: alongOf(frame, row),
    cocoons: courseWithin(material.cocoons, fromMs, toMs),
    humidity: courseWithin(material.humidity, fromMs, toMs),
    excursions,
    notes,
    left,
    noteLines: layNotes(notes, frame.leftPx, material.chamberId, frame.look),
  };
}

function levelsOf(matter: StaveMatter, top: number): Levels {
  const { frame, cocoons, humidity, notes, noteLines } = matter;
  const { bandC, humidityBandPct } = frame.material;
  const reachC = reachOf(cocoons, bandC, MARGIN_K);
  const reachPct = reachOf(humidity, humidityBandPct, MARGIN_PCT);
  const pane = top + HEADING_PX + BAR_LANE_PX;
  const paneEnd = pane + (reachC.high - reachC.low) * frame.pxPerK;
  const ticks = paneEnd + 3;
  const signs = ticks + TICKS_PX;
  const hasSigns = notes.some((note) => "annotation" in note);
  const barsPx = matter.excursions.some(isClimate) ? BAR_LANE_PX : 0;
  const below = signs + (hasSigns ? SIGN_PX + 4 : 1) + barsPx;
  const tall = humidity.length === 0 ? 0 : (reachPct.high - reachPct.low) * frame.pxPerPct;
  const foot = below + tall;
  const after = foot + NUMBERS_PX + 4;
  const end = after + noteLines.heightPx + AFTER_PX;
  return { top, pane, paneEnd, ticks, signs, humidity: below, foot, notes: after, end };
}

function assemble(matter: StaveMatter, levels: Levels): Markup {
  const { frame, humidity, noteLines } = matter;
  const warmth = warmthPane(matter, levels);
  const damp = humidity.length > 0 ? humidityPane(matter, levels) : null;
  return html`<g>${drawHeading(matter, levels)}${drawBand(warmth)}${damp && drawBand(damp)}${drawWeekLines(matter, levels)}${damp && html`${drawBeyond(damp)}${drawThread(damp)}`}${drawBeyond(warmth)}${drawThread(warmth)}${drawUnseen(matter, levels)}${drawScale(warmth, frame)}${damp && drawHumidityScale(damp, frame)}${drawOpenings(matter, levels)}${drawSigns(matter, levels)}${drawDays(matter, levels)}${drawMarks(matter, levels)}${noteLines.draw(levels.notes)}</g>
`;
}

/** Where the band is shown, px: along what was kept and seen or not. */
function watchedPx({ frame, row, along }: StaveMatter): Pane["bandPx"] {
  const fromMs = Math.max(row.span.fromMs, frame.material.watched.fromMs);
  const toMs = Math.min(row.span.toMs, frame.material.watched.toMs);
  return toMs > fromMs ? { low: along(fromMs), high: along(toMs) } : null;
}

function warmthPane(matter: StaveMatter, { paneEnd }: Levels): Pane {
  const { frame, row, along, cocoons } = matter;
  const { bandC } = frame.material;
  const { low } = reachOf(cocoons, bandC, MARGIN_K);
  return {
    idPrefix: frame.look.idPrefix,
    course: cocoons,
    band: bandC,
    along,
    down: (valueC) => paneEnd - (valueC - low) * frame.pxPerK,
    over: "warm",
    under: "cold",
    bandPx: watchedPx(matter),
    threadMs: frame.threadMs,
    fromMs: row.span.fromMs,
    threadWidePx: frame.isRoomy ? 1.3 : 1.1,
  };
}

function humidityPane(matter: StaveMatter, { foot }: Levels): Pane {
  const { frame, row, along, humidity } = matter;
  const { humidityBandPct } = frame.material;
  const { low } = reachOf(humidity, humidityBandPct, MARGIN_PCT);
  return {
    idPrefix: frame.look.idPrefix,
    course: humidity,
    band: humidityBandPct,
    along,
    down: (valuePct) => foot - (valuePct - low) * frame.pxPerPct,
    over: "damp",
    under: "dry",
    bandPx: watchedPx(matter),
    // Half as fine as the temperature: it is the lesser question, and half the size.
    threadMs: 2 * frame.threadMs,
    fromMs: row.span.fromMs,
    threadWidePx: 0.8,
    threadInk: QUIET,
    isSoft: true,
  };
}

function drawHeading({ frame, row, cocoons, left }: StaveMatter, { top }: Levels): Markup {
  const { look, material, leftPx } = frame;
  const name = written(row.heading, leftPx, top + 12, { sizePx: 13, bold: true });
  const share = inBandShare(cocoons, material.bandC);
  const more = left === 0 ? "" : `${left} more not listed; `;
  const beside = share === null ? "not seen" : `${more}in band ${shareWords(share)}`;
  return html`${row.address === null ? name : linked(look, row.address, name)}${noted(beside, look.widthPx, top + 12, { anchor: "end", sizePx: 11 })}`;
}

/** Share of the time known in which the mean of each piece was within the band. */
export function inBandShare(
  course: Course,
  band: Readonly<{ low: number; high: number }>,
): number | null {
  let [known, inside] = [0, 0];
  for (const { fromMs, toMs, mean } of course) {
    known += toMs - fromMs;
    if (mean >= band.low && mean <= band.high) inside += toMs - fromMs;
  }
  return known === 0 ? null : inside / known;
}

function drawScale({ band, down }: Pane, { leftPx, look }: SheetFrame): Markup {
  const at = (valueC: number) => {
    const words = spanWords({ low: valueC, high: valueC }, look.unit).replace(/ °.$/, "");
    return noted(words, leftPx - 4, down(valueC) + 3.5, { anchor: "end" });
  };
  return html`${at(band.high)}${at(band.low)}`;
}

function drawHumidityScale({ band, down }: Pane, { leftPx }: SheetFrame): Markup {
  // Both ends lie too close together for two lines of figures.
  const y = down((band.low + band.high) / 2) + 3;
  return noted("%RH", leftPx - 4, y, { anchor: "end", sizePx: 9 });
}
