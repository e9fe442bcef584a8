import type { Chamber } from "../../../shared/site.js";
import { DAY_MS } from "../../../shared/time.js";
import { courseEnds } from "../../drawing/course-frame.js";
import { drawCourse } from "../../drawing/course-picture.js";
import type { CourseMaterial } from "../../drawing/material.js";
import type { Markup } from "../../html.js";
import { lookFor, setPicture } from "../look/picture.js";
import type { Asking } from "../page.js";
import { setCourseTable } from "./course-table.js";
import { dayRows, hourRows } from "./time-rows.js";

/** Up to here a table goes by the hour. */
const BY_HOUR_MS = 4 * DAY_MS;

/**
 * A course as a picture with its table: by the hour while it is short, else by the day.
 *
 * @param idPrefix tells several pictures of one page apart
 */
export function setCoursePicture(
  chamber: Chamber,
  material: CourseMaterial,
  asking: Asking,
  idPrefix = "course",
): Markup {
  const { span } = material;
  const look = lookFor(asking, idPrefix);
  const isByHour = span.toMs - span.fromMs <= BY_HOUR_MS;
  const table = isByHour
    ? setCourseTable("By hour", "From", hourRows(span, asking), material, asking)
    : setCourseTable("By day", "Day", dayRows(chamber, span, asking), material, asking);
  const { low: leftPx, high: rightPx } = courseEnds(look);
  const pointing = { along: span, leftPx, rightPx };
  return setPicture({ svgs: [drawCourse(material, look)], pointing, table }, asking);
}
