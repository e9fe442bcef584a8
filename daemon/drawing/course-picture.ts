import { scaleLinear } from "d3-scale";
import type { Span } from "../../shared/site.js";
import { fromCelsius, toCelsius } from "../../shared/units.js";
import { html, type Markup } from "../html.js";
import { oneLine } from "../letters/one-line.js";
import { spanWords } from "../letters/temperature-words.js";
import { coarsened, lineOf, runsOf } from "./course-runs.js";
import { drawGates, type GateGround } from "./gates.js";
import { type Hatch, hatched } from "./hatching.js";
import { INK, QUIET, RULE } from "./inks.js";
import { drawLegend } from "./legend.js";
import { type Look, ROOMY_PX } from "./look.js";
import { inkOfMark, keyOf, linked } from "./marking.js";
import type { CourseMaterial } from "./material.js";
import { layNotes } from "./note-lines.js";
import { isOrdinary, type Note, notesOf } from "./notes.js";
import { drawBand, drawBeyond, drawThread, type Pane } from "./pane.js";
import { pathData, simplified } from "./path.js";
import { type Caption, picture } from "./picture.js";
import { reachOf } from "./sheet-frame.js";
import { SIGN_PX, signOf } from "./signs.js";
import { noted, round } from "./text.js";
import { timeTicks } from "./time-axis.js";
import { excursionWords, shortDayWords, shortMomentWords } from "./words.js";

const KEYS_PX = 18;
const AXIS_PX = 30;
const MOST_NOTES = 10;
/** A piece of the thread is at least this wide, so that a day of seconds stays small. */
const LEAST_PIECE_PX = 1.2;

type Frame = Readonly<{
  look: Look;
  material: CourseMaterial;
  leftPx: number;
  pxPerMs: number;
  along: (atMs: number) => number;
  reachC: Span;
  warmth: Pane;
  damp: Pane | null;
  top: number;
  paneEnd: number;
  signs: number;
  bottom: number;
  notes: readonly Note[];
}>;

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
  return picture(look, legendTop + legend.heightPx, captionOfCourse(material, look), parts);
}

function frameCourse(material: CourseMaterial, look: Look): Frame {
  const { span, bandC, humidityBandPct, cocoons, air, humidity } = material;
  const isRoomy = look.widthPx >= ROOMY_PX;
  const leftPx = 34;
  const pxPerMs = (look.widthPx - leftPx - 2) / (span.toMs - span.fromMs);
  const along = (atMs: number) => leftPx + (atMs - span.fromMs) * pxPerMs;
  const reachC = reachWithGates(material, reachOf([...cocoons, ...air], bandC, 0.8));
  const top = KEYS_PX;
  const paneEnd = top + (isRoomy ? 260 : 190);
  const downC = scaleLinear([reachC.high, reachC.low], [top, paneEnd]);
  const { notes } = notesOf(material.excursions, material.annotations, MOST_NOTES);
  const signs = paneEnd + 10;
  const dampTop = signs + (notes.some((note) => "annotation" in note) ? SIGN_PX + 4 : 2);
  const dampEnd = dampTop + (isRoomy ? 70 : 54);
  const reachPct = reachOf(humidity, humidityBandPct, 3);
  const downPct = scaleLinear([reachPct.high, reachPct.low], [dampTop, dampEnd]);
  const shared = {
    idPrefix: look.idPrefix,
    along,
    bandPx: { low: leftPx, high: along(span.toMs) },
    threadMs: LEAST_PIECE_PX / pxPerMs,
    fromMs: span.fromMs,
  };
  const warmth: Pane = {
    ...shared,
    course: cocoons,
    band: bandC,
    down: downC,
    over: "warm",
    under: "cold",
    threadWidePx: 2,
  };
  const damp: Pane | null =
    humidity.length === 0
      ? null
      : {
          ...shared,
          course: humidity,
          band: humidityBandPct,
          down: downPct,
          over: "damp",
          under: "dry",
          threadWidePx: 1,
          threadInk: QUIET,
        };
  const bottom = damp === null ? dampTop : dampEnd;
  return {
    look,
    material,
    leftPx,
    pxPerMs,
    along,
    reachC,
    warmth,
    damp,
    top,
    paneEnd,
    signs,
    bottom,
    notes,
  };
}

/** The temperatures of what was foretold are shown too, as far as the picture reaches. */
function reachWithGates({ forecasts, span }: CourseMaterial, reach: Span): Span {
  let { low, high } = reach;
  for (const { atMs, forecast } of forecasts)
    for (const { targetC, soonestMin } of forecast.reaches) {
      if (atMs + soonestMin * 60_000 >= span.toMs) continue;
      low = Math.min(low, targetC - 0.5);
      high = Math.max(high, targetC + 0.8);
    }
  return { low, high };
}

function drawGrid(frame: Frame): Markup {
  const { look, material, along, pxPerMs, top, bottom } = frame;
  const ticks = timeTicks(material.span, pxPerMs, look);
  const lines = (isDay: boolean) =>
    ticks
      .filter((tick) => tick.isDay === isDay)
      .map(({ atMs }) => `M${round(along(atMs))} ${top}V${round(bottom)}`)
      .join("");
  const hours = ticks.some(({ isDay }) => !isDay);
  const labels = ticks.map(({ atMs, label, isDay }) => {
    const x = along(atMs);
    if (x > look.widthPx - 18) return null;
    const day = isDay && hours && noted(shortDayWords(atMs, look), x, bottom + 25);
    const centre = hours ? {} : { anchor: "middle" as const };
    const at = hours ? x : x + (pxPerMs * 86_400_000) / 2;
    return html`${label !== "" && noted(label, at, bottom + 12, centre)}${day}`;
  });
  const first = ticks.find(({ isDay }) => isDay);
  const opening =
    hours && (first === undefined || along(first.atMs) > frame.leftPx + 70)
      ? noted(shortDayWords(material.span.fromMs, look), frame.leftPx, bottom + 25)
      : null;
  return html`<path d="${lines(false)}" stroke="${RULE}" stroke-width=".6" stroke-dasharray="1 3" fill="none"/><path d="${lines(true)}" stroke="${RULE}" fill="none"/>${labels}${opening}`;
}

function drawScales({ look, reachC, warmth, damp, leftPx }: Frame): Markup {
  const { unit } = look;
  const shown = [reachC.low, reachC.high].map((valueC) => fromCelsius(valueC, unit));
  const degrees = scaleLinear(shown, [0, 1]).ticks(5);
  const right = { anchor: "end" } as const;
  const warm = degrees.map((degree) => {
    const y = warmth.down(toCelsius(degree, unit));
    return noted(String(degree).replace("-", "−"), leftPx - 6, y + 3.5, right);
  });
  const humid =
    damp &&
    [damp.band.low, damp.band.high].map((pct) =>
      noted(`${pct}`, leftPx - 6, damp.down(pct) + 3.5, right),
    );
  const units = html`${noted(`°${unit}`, leftPx - 6, 10, right)}${damp && noted("%RH", leftPx - 6, damp.down(damp.band.low) + 15, { ...right, sizePx: 9 })}`;
  return html`${warm}${humid}${units}`;
}

function drawAir({ material, along, warmth }: Frame): Markup {
  const runs = runsOf(coarsened(material.air, warmth.fromMs, warmth.threadMs));
  const lines = (["high", "mean", "low"] as const).map((key) =>
    runs.map((run) =>
      simplified(
        lineOf(run, (piece) => piece[key]).map(([atMs, c]) => [along(atMs), warmth.down(c)]),
      ),
    ),
  );
  const [highs, means, lows] = lines as [(typeof lines)[0], (typeof lines)[0], (typeof lines)[0]];
  const reach = highs.map((high, i) => pathData([...high, ...lows[i]!.toReversed()], "z"));
  return html`<path d="${reach.join("")}" fill="${QUIET}" fill-opacity=".18"/><path d="${means.map((mean) => pathData(mean)).join("")}" stroke="${QUIET}" stroke-width=".8" fill="none" stroke-linejoin="round"/>`;
}

function drawDarkness({ material, along, top, bottom, look, leftPx }: Frame): Markup {
  const data = material.unseen.map(({ fromMs, toMs }) => {
    const from = round(Math.max(leftPx, along(fromMs)));
    const to = round(Math.min(look.widthPx, along(toMs)));
    return `M${from} ${top}H${to}V${round(bottom)}H${from}z`;
  });
  return html`<path d="${data.join("")}" fill="${hatched(look.idPrefix, "unseen")}"/>`;
}

function drawForecasts({ material, along, warmth, reachC, look }: Frame): Markup {
  const ground: GateGround = {
    along,
    down: warmth.down,
    endPx: look.widthPx - 1,
    topC: reachC.high,
    bottomC: reachC.low,
    unit: look.unit,
  };
  return html`${material.forecasts.map((told) => drawGates(told, ground))}`;
}

/** Openings as ticks, defrosts as dots, what the keeper did as signs. */
function drawTicks({ material, along, paneEnd, signs, notes }: Frame): Markup {
  const { span, excursions } = material;
  const ordinary = excursions.filter((mark) => isOrdinary(mark) && mark.startedAtMs >= span.fromMs);
  const at = (cause: string) => ordinary.filter((mark) => mark.cause === cause);
  const ticks = at("opening").map(
    ({ startedAtMs }) => `M${round(along(startedAtMs))} ${round(paneEnd + 3)}v5`,
  );
  const dots = at("defrost").map(
    ({ startedAtMs }) =>
      html`<circle cx="${round(along(startedAtMs))}" cy="${round(paneEnd + 5.5)}" r="1.4"/>`,
  );
  const drawn = notes.map(
    (note) =>
      "annotation" in note && signOf(note.annotation.kind, along(note.atMs), signs + SIGN_PX / 2),
  );
  return html`<path d="${ticks.join("")}" stroke="${QUIET}" fill="none"/><g fill="${QUIET}">${dots}</g>${drawn}`;
}

function drawMarks({ material, along, look, notes, top, paneEnd, leftPx }: Frame): Markup {
  let free = 0;
  return html`${notes.map((note) => {
    if (!("excursion" in note)) return null;
    const { excursion, key } = note;
    const from = Math.max(leftPx, along(excursion.startedAtMs));
    const to = Math.min(look.widthPx - 1, along(excursion.endedAtMs ?? material.span.toMs));
    const ink = inkOfMark(excursion);
    const x = Math.max(from, free);
    free = x + 9;
    const bar = html`<path d="M${round(from)} ${top - 3}h${round(Math.max(1.5, to - from))}" stroke="${ink}" stroke-width="3" fill="none"/><path d="M${round(from)} ${top}V${round(paneEnd)}M${round(to)} ${top}V${round(paneEnd)}" stroke="${ink}" stroke-width=".7" stroke-dasharray="2 2" fill="none"/>${keyOf(key, excursion, x, top - 7)}`;
    const address = { kind: "excursion", chamberId: material.chamberId, id: excursion.id } as const;
    return linked(look, address, bar, true);
  })}`;
}

const line = (ink: string, wide: number) => (x: number, y: number) =>
  html`<path d="M${round(x)} ${round(y - 4)}h14" stroke="${ink}" stroke-width="${wide}"/>`;

function linesIn({ air, forecasts, cocoons }: CourseMaterial) {
  return [
    ...(cocoons.length > 0 ? [{ sign: line(INK, 2), words: "cocoons" }] : []),
    ...(air.length > 0 ? [{ sign: line(QUIET, 0.9), words: "air" }] : []),
    ...(forecasts.length > 0 ? [{ sign: gate, words: "foretold, soonest to latest" }] : []),
  ];
}

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
      .filter((mark) => !isOrdinary(mark))
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
