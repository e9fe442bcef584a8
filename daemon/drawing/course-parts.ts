import { html, type Markup } from "../html.js";
import type { CourseFrame } from "./course-frame.js";
import { coarsened, lineOf, runsOf } from "./course-runs.js";
import { drawGates, type GateGround } from "./gates.js";
import { hatched } from "./hatching.js";
import { QUIET } from "./inks.js";
import { inkOfMark, keyOf, linked } from "./marking.js";
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

/** Excursions: a bar over the pane with its key, and where they began and ended. */
export function drawMarks({
  material,
  along,
  look,
  notes,
  top,
  paneEnd,
  leftPx,
}: CourseFrame): Markup {
  let free = 0;
  return html`${notes.map((note) => {
    if (!("excursion" in note)) return null;
    const { excursion, key } = note;
    const from = Math.max(leftPx, along(excursion.startedAtMs));
    const to = Math.min(look.widthPx - 1, along(excursion.endedAtMs ?? material.watched.toMs));
    const ink = inkOfMark(excursion);
    const x = Math.max(from, free);
    free = x + 9;
    const bar = html`<path d="M${round(from)} ${top - 3}h${round(Math.max(1.5, to - from))}" stroke="${ink}" stroke-width="3" fill="none"/><path d="M${round(from)} ${top}V${round(paneEnd)}M${round(to)} ${top}V${round(paneEnd)}" stroke="${ink}" stroke-width=".7" stroke-dasharray="2 2" fill="none"/>${keyOf(key, excursion, x, top - 7)}`;
    const address = { kind: "excursion", chamberId: material.chamberId, id: excursion.id } as const;
    return linked(look, address, bar, true);
  })}`;
}
