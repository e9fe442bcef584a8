import { startOfLocalDay, startOfNextLocalDay } from "../../shared/site-calendar.js";
import { shareWords } from "../digest/reason-words.js";
import { html, type Markup } from "../html.js";
import { numberWords, spanWords } from "../letters/temperature-words.js";
import { courseWithin } from "./course-runs.js";
import { hatched } from "./hatching.js";
import { QUIET, RULE } from "./inks.js";
import type { Course, ExcursionMark, Stretch } from "./material.js";
import {
  drawNotes,
  inkOfMark,
  isOrdinary,
  keyOf,
  linked,
  type Note,
  notesOf,
  notesPx,
} from "./notes.js";
import { drawBand, drawBeyond, drawThread, type Pane } from "./pane.js";
import { alongOf, reachOf, type SheetFrame } from "./sheet-frame.js";
import { SIGN_PX, signOf } from "./signs.js";
import { noted, round, written } from "./text.js";
import { dayNumber, monthWords, shortDayWords } from "./words.js";

const HEADING_PX = 18;
const KEYS_PX = 13;
const TICKS_PX = 8;
const NUMBERS_PX = 13;
const AFTER_PX = 16;
const MOST_NOTES = 8;

/** One month of the sheet, drawn from `topPx` down; the caller puts them under each other. */
export type Stave = Readonly<{ heightPx: number; markup: Markup }>;

type Month = Readonly<{
  frame: SheetFrame;
  span: Stretch;
  along: (atMs: number) => number;
  cocoons: Course;
  humidity: Course;
  excursions: readonly ExcursionMark[];
  notes: readonly Note[];
  left: number;
}>;

/** Where the parts of a stave lie, px from the top of the sheet. */
type Levels = Readonly<{
  top: number;
  pane: number;
  paneEnd: number;
  ticks: number;
  signs: number;
  humidity: number;
  humidityEnd: number;
  notes: number;
  end: number;
}>;

const overlaps = (span: Stretch, fromMs: number, toMs: number | null): boolean =>
  fromMs < span.toMs && (toMs === null || toMs > span.fromMs);

/** Draw the month [fromMs, toMs) of a sheet. */
export function drawStave(frame: SheetFrame, span: Stretch, topPx: number): Stave {
  const month = takeMonth(frame, span);
  const levels = levelsOf(month, topPx);
  return { heightPx: levels.end - topPx, markup: assemble(month, levels) };
}

function takeMonth(frame: SheetFrame, span: Stretch): Month {
  const { material } = frame;
  const excursions = material.excursions.filter((mark) =>
    overlaps(span, mark.startedAtMs, mark.endedAtMs),
  );
  const begun = excursions.filter(({ startedAtMs }) => startedAtMs >= span.fromMs);
  const annotations = material.annotations.filter(
    ({ atMs }) => atMs >= span.fromMs && atMs < span.toMs,
  );
  return {
    frame,
    span,
    along: alongOf(frame, span.fromMs),
    cocoons: courseWithin(material.cocoons, span.fromMs, span.toMs),
    humidity: courseWithin(material.humidity, span.fromMs, span.toMs),
    excursions,
    ...notesOf(begun, annotations, MOST_NOTES),
  };
}

function levelsOf(month: Month, top: number): Levels {
  const { frame, cocoons, humidity, notes } = month;
  const { bandC, humidityBandPct } = frame.material;
  const reachC = reachOf(cocoons, bandC, 0.8);
  const reachPct = reachOf(humidity, humidityBandPct, 3);
  const pane = top + HEADING_PX + KEYS_PX;
  const paneEnd = pane + (reachC.high - reachC.low) * frame.pxPerK;
  const ticks = paneEnd + 3;
  const signs = ticks + TICKS_PX;
  const hasSigns = notes.some((note) => "annotation" in note);
  const below = signs + (hasSigns ? SIGN_PX + 4 : 0);
  const humidityEnd =
    humidity.length === 0 ? below : below + (reachPct.high - reachPct.low) * frame.pxPerPct;
  const after = humidityEnd + NUMBERS_PX + 4;
  const end = after + notesPx(notes.length, columnsOf(frame)) + AFTER_PX;
  return { top, pane, paneEnd, ticks, signs, humidity: below, humidityEnd, notes: after, end };
}

const columnsOf = ({ isRoomy }: SheetFrame): number => (isRoomy ? 2 : 1);

function assemble(month: Month, levels: Levels): Markup {
  const { frame, notes } = month;
  const [warmth, damp] = [warmthPane(month, levels), humidityPane(month, levels)];
  const at = {
    x: frame.leftPx,
    y: levels.notes,
    widthPx: frame.look.widthPx - frame.leftPx,
    columns: columnsOf(frame),
  };
  return html`<g>${drawHeading(month, levels)}${drawBand(warmth)}${drawBand(damp)}${drawWeeks(month, levels)}${drawUnseen(month, levels)}${drawBeyond(damp)}${drawThread(damp)}${drawBeyond(warmth)}${drawThread(warmth)}${drawScale(warmth, frame)}${month.humidity.length > 0 && drawHumidityScale(damp, frame)}${drawOpenings(month, levels)}${drawSigns(month, levels)}${drawDays(month, levels)}${drawMarks(month, levels)}${drawNotes(notes, at, frame.material.chamberId, frame.look)}</g>
`;
}

function watchedPx({ frame, span, along }: Month): Pane["bandPx"] {
  const fromMs = Math.max(span.fromMs, frame.material.watched.fromMs);
  const toMs = Math.min(span.toMs, frame.material.watched.toMs);
  return toMs > fromMs ? { low: along(fromMs), high: along(toMs) } : null;
}

function warmthPane(month: Month, { paneEnd }: Levels): Pane {
  const { frame, span, along, cocoons } = month;
  const { bandC } = frame.material;
  const { low } = reachOf(cocoons, bandC, 0.8);
  return {
    idPrefix: frame.look.idPrefix,
    course: cocoons,
    band: bandC,
    along,
    down: (valueC) => paneEnd - (valueC - low) * frame.pxPerK,
    over: "warm",
    under: "cold",
    bandPx: watchedPx(month),
    threadMs: frame.threadMs,
    fromMs: span.fromMs,
    threadWidePx: frame.isRoomy ? 1.3 : 1.1,
  };
}

function humidityPane(month: Month, { humidityEnd }: Levels): Pane {
  const { frame, span, along, humidity } = month;
  const { humidityBandPct } = frame.material;
  const { low } = reachOf(humidity, humidityBandPct, 3);
  return {
    idPrefix: frame.look.idPrefix,
    course: humidity,
    band: humidityBandPct,
    along,
    down: (valuePct) => humidityEnd - (valuePct - low) * frame.pxPerPct,
    over: "damp",
    under: "dry",
    bandPx: humidity.length === 0 ? null : watchedPx(month),
    threadMs: frame.threadMs,
    fromMs: span.fromMs,
    threadWidePx: 0.8,
    threadInk: QUIET,
  };
}

function drawHeading({ frame, span, cocoons, left }: Month, { top }: Levels): Markup {
  const { look, material, leftPx } = frame;
  const name = monthWords(span.fromMs, look);
  const address = { kind: "month", chamberId: material.chamberId, atMs: span.fromMs } as const;
  const share = inBandShare(cocoons, material.bandC);
  const more = left === 0 ? "" : `${left} more not listed; `;
  const beside = share === null ? "not seen" : `${more}in band ${shareWords(share)}`;
  return html`${linked(look, address, written(name, leftPx, top + 12, { sizePx: 13, bold: true }))}${noted(beside, look.widthPx, top + 12, { anchor: "end", sizePx: 11 })}`;
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

function drawWeeks({ span, along, frame }: Month, { pane, humidityEnd }: Levels): Markup {
  const { timezone } = frame.look;
  const mondays = daysOf(span, timezone).filter((day) =>
    shortDayWords(day.fromMs, frame.look).startsWith("Mon"),
  );
  const lines = mondays.map(
    ({ fromMs }) => `M${round(along(fromMs))} ${round(pane)}V${round(humidityEnd)}`,
  );
  return html`<path d="${lines.join("")}" stroke="${RULE}" stroke-width=".7" fill="none"/>`;
}

function drawUnseen({ frame, span, along }: Month, { pane, humidityEnd }: Levels): Markup {
  const parts = frame.material.unseen
    .filter(({ fromMs, toMs }) => overlaps(span, fromMs, toMs))
    .map((stretch) => {
      const from = round(along(Math.max(stretch.fromMs, span.fromMs)));
      const wide = round(along(Math.min(stretch.toMs, span.toMs)) - from);
      return `M${from} ${round(pane)}h${wide}V${round(humidityEnd)}h${-wide}z`;
    });
  if (parts.length === 0) return html``;
  return html`<path d="${parts.join("")}" fill="${hatched(frame.look.idPrefix, "unseen")}"><title>Not seen</title></path>`;
}

function drawScale({ band, down }: Pane, { leftPx, look }: SheetFrame): Markup {
  const at = (valueC: number) =>
    noted(
      spanWords({ low: valueC, high: valueC }, look.unit).replace(/ °.$/, ""),
      leftPx - 4,
      down(valueC) + 3.5,
      { anchor: "end" },
    );
  return html`${at(band.high)}${at(band.low)}`;
}

function drawHumidityScale({ band, down }: Pane, { leftPx }: SheetFrame): Markup {
  const at = (valuePct: number, words: string) =>
    noted(words, leftPx - 4, down(valuePct) + 3, { anchor: "end", sizePx: 9 });
  // Both ends lie too close together for two lines of figures.
  return at((band.low + band.high) / 2, "%RH");
}

function drawOpenings({ excursions, along, span }: Month, { ticks }: Levels): Markup {
  const data = excursions
    .filter(
      (mark) => isOrdinary(mark) && mark.cause === "opening" && mark.startedAtMs >= span.fromMs,
    )
    .map(({ startedAtMs }) => `M${round(along(startedAtMs))} ${round(ticks)}v4`);
  return html`<path d="${data.join("")}" stroke="${QUIET}" stroke-width=".7" fill="none"/>`;
}

function drawSigns({ notes, along }: Month, { signs }: Levels): Markup {
  return html`${notes.map(
    (note) =>
      "annotation" in note && signOf(note.annotation.kind, along(note.atMs), signs + SIGN_PX / 2),
  )}`;
}

/** Excursions as bars over the pane where they lie, each with its key. */
function drawMarks(month: Month, { pane }: Levels): Markup {
  const { excursions, notes, along, frame } = month;
  const endPx = along(month.span.toMs);
  let free = 0;
  const bars = excursions
    .filter((mark) => !isOrdinary(mark))
    .map((mark) => {
      const from = Math.max(frame.leftPx, along(mark.startedAtMs));
      const to = Math.min(endPx, along(mark.endedAtMs ?? frame.material.watched.toMs));
      const note = notes.find((one) => "excursion" in one && one.excursion.id === mark.id);
      const bar = html`<path d="M${round(from)} ${round(pane - 2)}h${round(Math.max(1.5, to - from))}" stroke="${inkOfMark(mark)}" stroke-width="3" fill="none"/>`;
      if (note === undefined || !("key" in note)) return bar;
      const x = Math.max(from, free);
      free = x + 8;
      const address = {
        kind: "excursion",
        chamberId: frame.material.chamberId,
        id: mark.id,
      } as const;
      return linked(frame.look, address, html`${bar}${keyOf(note.key, mark, x, pane - 5)}`, true);
    });
  return html`${bars}`;
}

type Day = Stretch;

function daysOf(span: Stretch, timezone: string): Day[] {
  const days: Day[] = [];
  // A month of any calendar has at most 31 days.
  for (
    let fromMs = startOfLocalDay(span.fromMs, timezone);
    fromMs < span.toMs && days.length < 32;
  ) {
    const toMs = startOfNextLocalDay(fromMs, timezone);
    days.push({ fromMs, toMs });
    fromMs = toMs;
  }
  return days;
}

function drawDays(month: Month, levels: Levels): Markup {
  const { frame, along } = month;
  const { look, material, isRoomy } = frame;
  const down = levels.humidityEnd - levels.pane;
  return html`${daysOf(month.span, look.timezone).map((day, i) => {
    const [from, to] = [along(day.fromMs), along(day.toMs)];
    const number = dayNumber(day.fromMs, look);
    const isNumbered = isRoomy || i === 0 || (i + 1) % 5 === 0;
    const label =
      isNumbered &&
      noted(number, (from + to) / 2, levels.humidityEnd + 11, { anchor: "middle", sizePx: 9.5 });
    const isWatched = day.toMs > material.watched.fromMs && day.fromMs < material.watched.toMs;
    if (!isWatched) return label;
    const area = html`<path d="M${round(from)} ${round(levels.pane)}h${round(to - from)}v${round(down)}h${round(from - to)}z" fill="none" pointer-events="all"><title>${dayTitle(month, day)}</title></path>`;
    const address = { kind: "day", chamberId: material.chamberId, atMs: day.fromMs } as const;
    return html`${label}${linked(look, address, area, true)}`;
  })}`;
}

function dayTitle({ frame, cocoons, humidity }: Month, { fromMs, toMs }: Day): string {
  const { unit } = frame.look;
  const reach = (course: Course) => {
    const within = courseWithin(course, fromMs, toMs);
    if (within.length === 0) return null;
    return {
      low: Math.min(...within.map((p) => p.low)),
      high: Math.max(...within.map((p) => p.high)),
    };
  };
  const [warmth, damp] = [reach(cocoons), reach(humidity)];
  const told = [
    warmth === null ? "cocoons not known" : `cocoons ${spanWords(warmth, unit)}`,
    damp && `${numberWords(damp.low, 0)} to ${numberWords(damp.high, 0)} %RH`,
  ];
  return `${shortDayWords(fromMs, frame.look)}: ${told.filter(Boolean).join(", ")}`;
}
