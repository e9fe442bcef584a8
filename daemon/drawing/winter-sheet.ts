import { startOfLocalDay, startOfNextLocalDay } from "../../shared/site-calendar.js";
import { shareWords } from "../digest/reason-words.js";
import { html, type Markup } from "../html.js";
import { oneLine } from "../letters/one-line.js";
import { spanWords } from "../letters/temperature-words.js";
import { dateWords } from "../letters/time-words.js";
import type { Hatch } from "./hatching.js";
import { QUIET } from "./inks.js";
import { drawLegend } from "./legend.js";
import type { Look } from "./look.js";
import type { Stretch, WinterMaterial } from "./material.js";
import { isOrdinary } from "./notes.js";
import { type Caption, picture } from "./picture.js";
import { frameSheet } from "./sheet-frame.js";
import { drawStave, inBandShare } from "./stave.js";
import { round } from "./text.js";
import { dayNumber } from "./words.js";

/** A winter is at most this long, and one that is set longer is cut. */
const MOST_MONTHS = 18;

/**
 * The winter sheet: each month a stave, days along it, so that a winter reads like a page.
 *
 * The cocoons' temperature runs as a thread along its band. What lies beyond the band is hatched,
 * and since all degrees are as high and all days as wide, the hatched area is degree-hours. A calm
 * month is thin, a bad one swells. Beneath lie openings, what the keeper did, and humidity; notes
 * under each month say what its keyed excursions were and took. Pure; never throws.
 */
export function drawWinterSheet(material: WinterMaterial, look: Look): Markup {
  const frame = frameSheet(material, look);
  let y = 0;
  const staves = monthsOf(material.span, look).map((month) => {
    const stave = drawStave(frame, month, y);
    y += stave.heightPx;
    return stave.markup;
  });
  const hatches: readonly Hatch[] = ["warm", "cold", "damp", "dry", "unseen"];
  const legend = drawLegend(hatches, [{ sign: tick, words: "an opening" }], look, {
    x: frame.leftPx,
    y,
  });
  return picture(
    look,
    y + legend.heightPx,
    captionOf(material, look),
    html`${staves}${legend.markup}`,
  );
}

const tick = (x: number, y: number): Markup =>
  html`<path d="M${round(x + 4)} ${round(y - 7)}v5m3-5v5" stroke="${QUIET}" stroke-width=".8"/>`;

/** Calendar months that a stretch touches, whole. */
export function monthsOf(
  { fromMs, toMs }: Stretch,
  look: Pick<Look, "timezone" | "hourCycle">,
): Stretch[] {
  const months: Stretch[] = [];
  let startMs = startOfLocalDay(fromMs, look.timezone);
  while (dayNumber(startMs, look) !== "1") startMs = startOfLocalDay(startMs - 1, look.timezone);
  while (startMs < toMs && months.length < MOST_MONTHS) {
    let endMs = startOfNextLocalDay(startMs, look.timezone);
    while (dayNumber(endMs, look) !== "1") endMs = startOfNextLocalDay(endMs, look.timezone);
    months.push({ fromMs: startMs, toMs: endMs });
    startMs = endMs;
  }
  return months;
}

/** What a winter sheet shows, in words. */
function captionOf(material: WinterMaterial, look: Look): Caption {
  const { siteName, chamberId, span, bandC, cocoons, excursions, unseen } = material;
  const place = `${oneLine(chamberId, 60)}, ${oneLine(siteName, 80)}`;
  const stretch = `${dateWords(span.fromMs, look.timezone)} to ${dateWords(span.toMs - 1, look.timezone)}`;
  const share = inBandShare(cocoons, bandC);
  const low = cocoons.reduce((least, piece) => Math.min(least, piece.low), Infinity);
  const high = cocoons.reduce((most, piece) => Math.max(most, piece.high), -Infinity);
  const events = excursions.filter((mark) => !isOrdinary(mark)).length;
  const felt =
    share === null
      ? "Nothing is known of the cocoons."
      : `Cocoons from ${spanWords({ low, high }, look.unit)}, ${shareWords(share)} of the time within ${spanWords(bandC, look.unit)}.`;
  const dark = unseen.length === 0 ? "" : ` ${unseen.length} stretches were not seen.`;
  return {
    title: `The winter at ${place}, ${stretch}`,
    desc: `${felt} ${events} excursions.${dark} The figures stand in the table beside this picture.`,
  };
}
