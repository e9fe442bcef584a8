import { html, type Markup } from "../html.js";
import type { CourseFrame } from "./course-frame.js";
import { coarsened, lineOf, runsOf } from "./course-runs.js";
import { drawGates, type GateGround } from "./gates.js";
import { hatched } from "./hatching.js";
import { QUIET } from "./inks.js";
import { drawBars, isClimate, reachOfMark } from "./mark-bars.js";
import { inkOfMark } from "./marking.js";
import { pathData, simplified } from "./path.js";
import { SIGN_PX, signOf } from "./signs.js";
import { round } from "./text.js";

/** The air, paler than the cocoons. */
export function drawAir({ material, along, warmth }: CourseFrame): Markup {
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

/** What was not seen, crossed over. */
export function drawDarkness({ material, along, top, bottom, look, leftPx }: CourseFrame): Markup {
  const data = material.unseen.map(({ fromMs, toMs }) => {
    const from = round(Math.max(leftPx, along(fromMs)));
    const to = round(Math.min(look.widthPx, along(toMs)));
    return `M${from} ${top}H${to}V${round(bottom)}H${from}z`;
  });
  return html`<path d="${data.join("")}" fill="${hatched(look.idPrefix, "unseen")}"/>`;
}

/** What was foretold, as gates. */
export function drawForecasts({ material, along, warmth, reachC, look }: CourseFrame): Markup {
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
export function drawTicks({ material, along, paneEnd, signs, notes }: CourseFrame): Markup {
  const y = round(paneEnd + 5.5);
  const ticks = material.openingsMs.map((atMs) => `M${round(along(atMs))} ${round(paneEnd + 3)}v5`);
  const dots = material.defrostsMs.map(
    (atMs) => html`<circle cx="${round(along(atMs))}" cy="${y}" r="1.4"/>`,
  );
  const drawn = notes.map(
    (note) =>
      "annotation" in note && signOf(note.annotation.kind, along(note.atMs), signs + SIGN_PX / 2),
  );
  return html`<path d="${ticks.join("")}" stroke="${QUIET}" fill="none"/><g fill="${QUIET}">${dots}</g>${drawn}`;
}

/** Excursions: a bar over their pane with its key, and where they began and ended. */
export function drawMarks(frame: CourseFrame): Markup {
  const { material, along, look, notes, top, paneEnd, leftPx, dampTop, bottom } = frame;
  const ground = {
    look,
    material,
    along,
    startPx: leftPx,
    endPx: look.widthPx - 1,
    warmthY: top - 3,
    climateY: dampTop - 2,
  };
  const ends = notes.map((note) => {
    if (!("excursion" in note)) return null;
    const { excursion } = note;
    const { from, to } = reachOfMark(excursion, ground);
    const [upper, lower] = isClimate(excursion) ? [dampTop, bottom] : [top, paneEnd];
    const upright = (x: number) => `M${round(x)} ${round(upper)}V${round(lower)}`;
    return html`<path d="${upright(from)}${upright(to)}" stroke="${inkOfMark(excursion)}" stroke-width=".7" stroke-dasharray="2 2" fill="none"/>`;
  });
  return html`${ends}${drawBars(material.excursions, notes, ground)}`;
}
