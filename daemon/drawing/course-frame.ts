import { scaleLinear } from "d3-scale";
import type { Span } from "../../shared/site.js";
import { MINUTE_MS } from "../../shared/time.js";
import { QUIET } from "./inks.js";
import { type Look, ROOMY_PX } from "./look.js";
import { BAR_LANE_PX, isClimate } from "./mark-bars.js";
import type { CourseMaterial } from "./material.js";
import { type Note, notesOf } from "./notes.js";
import type { Pane } from "./pane.js";
import { MARGIN_K, MARGIN_PCT, reachOf } from "./sheet-frame.js";
import { SIGN_PX } from "./signs.js";

const LEFT_PX = 34;
const RIGHT_PX = 2;
const KEYS_PX = 18;
const MOST_NOTES = 10;
/** A piece of the thread is at least this wide, so that a day of seconds stays small. */
const LEAST_PIECE_PX = 1.2;

/** The scales of a course, and where its parts lie, px. */
export type CourseFrame = Readonly<{
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
  /** The upper end of the humidity's pane. */
  dampTop: number;
  bottom: number;
  notes: readonly Note[];
}>;

/** Where a course begins and ends along its drawing, px, for whoever points at a moment of it. */
export const courseEnds = ({ widthPx }: Pick<Look, "widthPx">): Span => ({
  low: LEFT_PX,
  high: widthPx - RIGHT_PX,
});

/** Set up the scales of a course. */
export function frameCourse(material: CourseMaterial, look: Look): CourseFrame {
  const { span, bandC, humidityBandPct, cocoons, air, humidity } = material;
  const isRoomy = look.widthPx >= ROOMY_PX;
  const { low: leftPx, high: rightPx } = courseEnds(look);
  const pxPerMs = (rightPx - leftPx) / (span.toMs - span.fromMs);
  const along = (atMs: number) => leftPx + (atMs - span.fromMs) * pxPerMs;
  const reachC = reachWithGates(material, reachOf([...cocoons, ...air], bandC, MARGIN_K));
  const top = KEYS_PX;
  const paneEnd = top + (isRoomy ? 260 : 190);
  const downC = scaleLinear([reachC.high, reachC.low], [top, paneEnd]);
  const { notes } = notesOf(material.excursions, material.annotations, MOST_NOTES);
  const signs = paneEnd + 10;
  const hasSigns = notes.some((note) => "annotation" in note);
  const barsPx = material.excursions.some(isClimate) ? BAR_LANE_PX : 0;
  const dampTop = signs + (hasSigns ? SIGN_PX + 4 : 2) + barsPx;
  const dampEnd = dampTop + (isRoomy ? 70 : 54);
  const reachPct = reachOf(humidity, humidityBandPct, MARGIN_PCT);
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
    dampTop,
    bottom,
    notes,
  };
}

/** The temperatures of what was foretold are shown too, as far as the picture reaches. */
function reachWithGates({ forecasts, span }: CourseMaterial, reach: Span): Span {
  let { low, high } = reach;
  for (const { atMs, forecast } of forecasts)
    for (const { targetC, soonestMin } of forecast.reaches) {
      if (atMs + soonestMin * MINUTE_MS >= span.toMs) continue;
      low = Math.min(low, targetC - 0.5);
      high = Math.max(high, targetC + 0.8);
    }
  return { low, high };
}
