import { html, type Markup } from "../html.js";
import { oneLine } from "../letters/one-line.js";
import { spanWords } from "../letters/temperature-words.js";
import { drawGrid, drawScales } from "./course-axes.js";
import { frameCourse } from "./course-frame.js";
import { drawAir, drawDarkness, drawForecasts, drawMarks, drawTicks } from "./course-parts.js";
import { type Hatch, hatchings } from "./hatching.js";
import { INK, QUIET } from "./inks.js";
import { drawLegend } from "./legend.js";
import type { Look } from "./look.js";
import type { CourseMaterial } from "./material.js";
import { layNotes } from "./note-lines.js";
import { drawBand, drawBeyond, drawThread } from "./pane.js";
import { type Caption, picture } from "./picture.js";
import { round } from "./text.js";
import { excursionWords, shortMomentWords } from "./words.js";

const AXIS_PX = 30;

/**
 * A day, a month or an excursion from close by: air and cocoons against the band, humidity
 * beneath, what was foretold as gates beside what came. Pure; never throws.
 */
export function drawCourse(material: CourseMaterial, look: Look): Markup {
  const frame = frameCourse(material, look);
  const { leftPx, notes, bottom } = frame;
  const lines = layNotes(notes, leftPx, material.chamberId, look);
  const noteTop = bottom + AXIS_PX;
  const legendTop = noteTop + lines.heightPx + 10;
  const legend = drawLegend(hatchesIn(material), linesIn(material), look, {
    x: leftPx,
    y: legendTop,
  });
  const parts = html`${drawBand(frame.warmth)}${frame.damp && drawBand(frame.damp)}${drawGrid(frame)}${drawDarkness(frame)}${frame.damp && html`${drawBeyond(frame.damp)}${drawThread(frame.damp)}`}${drawAir(frame)}${drawBeyond(frame.warmth)}${drawThread(frame.warmth)}${drawForecasts(frame)}${drawScales(frame)}${drawTicks(frame)}${drawMarks(frame)}${lines.draw(noteTop)}${legend.markup}`;
  return picture(
    look,
    legendTop + legend.heightPx,
    captionOfCourse(material, look),
    parts,
    hatchings(look.idPrefix),
  );
}

const line = (ink: string, wide: number) => (x: number, y: number) =>
  html`<path d="M${round(x)} ${round(y - 4)}h14" stroke="${ink}" stroke-width="${wide}"/>`;

function linesIn({ air, forecasts, cocoons, openingsMs, defrostsMs }: CourseMaterial) {
  return [
    ...(cocoons.length > 0 ? [{ sign: line(INK, 2), words: "cocoons" }] : []),
    ...(air.length > 0 ? [{ sign: line(QUIET, 0.9), words: "air" }] : []),
    ...(openingsMs.length > 0 ? [{ sign: tick, words: "an opening" }] : []),
    ...(defrostsMs.length > 0 ? [{ sign: dot, words: "a defrost" }] : []),
    ...(forecasts.length > 0 ? [{ sign: gate, words: "foretold, soonest to latest" }] : []),
  ];
}

const tick = (x: number, y: number): Markup =>
  html`<path d="M${round(x + 6)} ${round(y - 7)}v5" stroke="${QUIET}"/>`;

const dot = (x: number, y: number): Markup =>
  html`<circle cx="${round(x + 6)}" cy="${round(y - 4)}" r="1.4" fill="${QUIET}"/>`;

const gate = (x: number, y: number): Markup =>
  html`<path d="M${round(x)} ${round(y - 8)}v8m0-4h13m0-4v8" stroke="${INK}" stroke-width="1.3" fill="none"/>`;

function hatchesIn({ unseen }: CourseMaterial): Hatch[] {
  return ["warm", "cold", "damp", "dry", ...(unseen.length > 0 ? (["unseen"] as const) : [])];
}

/** What a course shows, in words. */
function captionOfCourse(material: CourseMaterial, look: Look): Caption {
  const { siteName, chamberId, span, bandC, cocoons, air, excursions } = material;
  const reach = (course: CourseMaterial["air"]) => ({
    low: Math.min(...course.map((piece) => piece.low)),
    high: Math.max(...course.map((piece) => piece.high)),
  });
  const told = [
    cocoons.length > 0
      ? `Cocoons from ${spanWords(reach(cocoons), look.unit)} against a band of ${spanWords(bandC, look.unit)}.`
      : "Nothing is known of the cocoons.",
    air.length > 0 && `Air from ${spanWords(reach(air), look.unit)}.`,
    ...excursions
      .slice(0, 3)
      .map(
        (mark) =>
          `From ${shortMomentWords(mark.startedAtMs, look)}: ${excursionWords(mark, look.unit)}.`,
      ),
  ];
  const place = `${oneLine(chamberId, 60)}, ${oneLine(siteName, 80)}`;
  const when = `${shortMomentWords(span.fromMs, look)} to ${shortMomentWords(span.toMs, look)}`;
  return { title: `${place}: ${when}`, desc: told.filter(Boolean).join(" ") };
}
