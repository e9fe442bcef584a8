import type { Chamber } from "../../../shared/site.js";
import { drawMonthSheet } from "../../drawing/winter-sheet.js";
import { monthWords, shortDayWords } from "../../drawing/words.js";
import { html, type Markup } from "../../html.js";
import { oneLine } from "../../letters/one-line.js";
import { dateWords, dayWords } from "../../letters/time-words.js";
import { gatherCourse } from "../../season/gather-course.js";
import { gatherWinter } from "../../season/gather-winter.js";
import { winterAt } from "../../season/winters.js";
import { winterAddress } from "../address.js";
import { lookFor, setPicture } from "../look/picture.js";
import type { Asking, Shown, Step } from "../page.js";
import { setCoursePicture } from "./course-picture.js";
import { setCourseTable } from "./course-table.js";
import { setExcursions } from "./excursion-table.js";
import { type CalendarSpan, readSpan } from "./span.js";
import { dayRows } from "./time-rows.js";

/** A month of one chamber, week by week, or a day from close by. */
export function showMonthOrDay(chamber: Chamber, span: CalendarSpan, asking: Asking): Shown {
  const name = nameOf(span, asking);
  const parts =
    span.kind === "day" ? setDay(chamber, span, asking) : setMonth(chamber, span, asking);
  return {
    title: `${name}, ${chamber.id}`,
    main: html`<h1>${name}</h1>
<p>${oneLine(chamber.id, 60)}: ${setWayUp(chamber, span, asking)}</p>
${parts}`,
    earlier: stepTo(chamber, span.before, asking),
    later: span.toMs > asking.nowMs ? null : stepTo(chamber, span.after, asking),
  };
}

function setDay(chamber: Chamber, span: CalendarSpan, asking: Asking): Markup {
  const { config, store, nowMs } = asking;
  const material = gatherCourse(store, config.site, chamber, span, nowMs);
  return html`${setCoursePicture(chamber, material, asking)}${setExcursions(material, asking)}`;
}

function setMonth(chamber: Chamber, span: CalendarSpan, asking: Asking): Markup {
  const { config, store, nowMs } = asking;
  const material = gatherWinter(store, config.site, chamber, span, nowMs);
  const svgs = [drawMonthSheet(material, lookFor(asking, "month"))];
  const rows = dayRows(chamber, span, asking);
  const table = setCourseTable("By day", "Day", rows, material, asking);
  return html`${setPicture({ svgs, pointing: "days", table }, asking)}${setExcursions(material, asking)}`;
}

function nameOf({ kind, fromMs }: CalendarSpan, { config, hourCycle }: Asking): string {
  const { timezone } = config.site;
  if (kind === "month") return monthWords(fromMs, { timezone, hourCycle });
  const year = dateWords(fromMs, timezone).split(" ").at(-1);
  return `${dayWords(fromMs, timezone)} ${year}`;
}

function stepTo({ id }: Chamber, name: string, asking: Asking): Step | null {
  const span = readSpan(name, asking.config.site.timezone);
  if (span === null) return null;
  const look = { timezone: asking.config.site.timezone, hourCycle: asking.hourCycle };
  const words =
    span.kind === "day" ? shortDayWords(span.fromMs, look) : monthWords(span.fromMs, look);
  return { address: winterAddress(id, name), words };
}

/** The month and the winter that it is in, as links. */
function setWayUp({ id }: Chamber, { kind, fromMs, name }: CalendarSpan, asking: Asking) {
  const { timezone } = asking.config.site;
  const { year } = winterAt(fromMs, timezone);
  const month = monthWords(fromMs, { timezone, hourCycle: asking.hourCycle });
  return html`${kind === "day" && html`<a href="${winterAddress(id, name.slice(0, 7))}">${month}</a>, `}<a href="${winterAddress(id, String(year))}">the winter of ${year} to ${year + 1}</a>`;
}
