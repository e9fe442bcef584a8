import { scaleLinear } from "d3-scale";
import { DAY_MS } from "../../shared/time.js";
import { fromCelsius, toCelsius } from "../../shared/units.js";
import { html, type Markup } from "../html.js";
import type { CourseFrame } from "./course-frame.js";
import { RULE } from "./inks.js";
import { noted, round } from "./text.js";
import { timeTicks } from "./time-axis.js";
import { shortDayWords } from "./words.js";

/** Lines of time with what stands under them: clocks, and days where they begin. */
export function drawGrid(frame: CourseFrame): Markup {
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
    const at = hours ? x : x + (pxPerMs * DAY_MS) / 2;
    return html`${label !== "" && noted(label, at, bottom + 12, centre)}${day}`;
  });
  const first = ticks.find(({ isDay }) => isDay);
  const opening =
    hours && (first === undefined || along(first.atMs) > frame.leftPx + 70)
      ? noted(shortDayWords(material.span.fromMs, look), frame.leftPx, bottom + 25)
      : null;
  return html`<path d="${lines(false)}" stroke="${RULE}" stroke-width=".6" stroke-dasharray="1 3" fill="none"/><path d="${lines(true)}" stroke="${RULE}" fill="none"/>${labels}${opening}`;
}

/** Figures beside the panes: degrees in the keeper's unit, and the humidity band. */
export function drawScales({ look, reachC, warmth, damp, leftPx }: CourseFrame): Markup {
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
