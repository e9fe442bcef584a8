import type { Span } from "../../../shared/site.js";
import { HOUR_MS } from "../../../shared/time.js";
import { courseWithin } from "../../drawing/course-runs.js";
import type { Course, Stretch, WinterMaterial } from "../../drawing/material.js";
import type { Row } from "../../drawing/sheet-rows.js";

/*
 * A stave of the winter sheet in letters, two to a day: the same hatchings, and plain ASCII, so
 * that any terminal shows them and a diff can compare them.
 */

const SIGNS = {
  inside: "--",
  warm: "\\\\",
  cold: "//",
  both: "\\/",
  damp: "==",
  dry: "||",
  unseen: "xx",
  blank: "  ",
} as const;

/** Beyond the band for this long and far in a day is told: half a degree-hour. Our choice. */
const LEAST_DEGREE_HOURS = 0.5;
/** A day of which less than this is known is not seen. */
const LEAST_KNOWN_MS = 12 * HOUR_MS;

/** What the signs mean, in lines. */
export const TEXT_LEGEND = `-- within the band   \\\\ warmer   // colder   \\/ both
== damper            || drier    xx not seen`;

/** The lines of one month: cocoons, humidity where it was measured, openings. */
export function staveLines(material: WinterMaterial, row: Row): string[] {
  const days = row.dayStarts.slice(1).map((toMs, i) => ({ fromMs: row.dayStarts[i]!, toMs }));
  const cells = (read: (day: Stretch) => string) => days.map(read).join("").trimEnd();
  const lines = [`cocoons   ${cells((day) => cocoonSign(material, day))}`];
  if (material.humidity.length > 0)
    lines.push(`humidity  ${cells((day) => humiditySign(material, day))}`);
  lines.push(`openings  ${cells((day) => openingsIn(material, day))}`);
  lines.push(
    `          ${days
      .map((_, i) => dayMark(i + 1))
      .join("")
      .trimEnd()}`,
  );
  return lines;
}

/** Days are named each five, from the first on. */
const dayMark = (number: number): string =>
  number === 1 || number % 5 === 0 ? String(number).padEnd(2) : "  ";

function cocoonSign({ cocoons, bandC, watched }: WinterMaterial, day: Stretch): string {
  return signFor(cocoons, day, watched, (course) => {
    const above = beyondHours(course, (mean) => mean - bandC.high) >= LEAST_DEGREE_HOURS;
    const below = beyondHours(course, (mean) => bandC.low - mean) >= LEAST_DEGREE_HOURS;
    if (above && below) return "both";
    return above ? "warm" : below ? "cold" : "inside";
  });
}

function humiditySign(
  { humidity, humidityBandPct, watched }: WinterMaterial,
  day: Stretch,
): string {
  return signFor(humidity, day, watched, (course) => sideOf(meanOf(course), humidityBandPct));
}

function sideOf(meanPct: number, band: Span): keyof typeof SIGNS {
  return meanPct > band.high ? "damp" : meanPct < band.low ? "dry" : "inside";
}

function signFor(
  course: Course,
  day: Stretch,
  watched: Stretch,
  choose: (course: Course) => keyof typeof SIGNS,
): string {
  const kept = cut(day, watched);
  if (kept.toMs <= kept.fromMs) return SIGNS.blank;
  const within = courseWithin(course, kept.fromMs, kept.toMs);
  const knownMs = within.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
  const enoughMs = Math.min(LEAST_KNOWN_MS, (kept.toMs - kept.fromMs) / 2);
  return SIGNS[within.length === 0 || knownMs < enoughMs ? "unseen" : choose(within)];
}

const cut = (day: Stretch, watched: Stretch): Stretch => ({
  fromMs: Math.max(day.fromMs, watched.fromMs),
  toMs: Math.min(day.toMs, watched.toMs),
});

const beyondHours = (course: Course, over: (mean: number) => number): number =>
  course.reduce(
    (sum, { fromMs, toMs, mean }) => sum + Math.max(0, over(mean)) * ((toMs - fromMs) / HOUR_MS),
    0,
  );

const meanOf = (course: Course): number =>
  course.reduce((sum, { mean }) => sum + mean, 0) / course.length;

function openingsIn({ openingsMs, watched }: WinterMaterial, day: Stretch): string {
  const kept = cut(day, watched);
  if (kept.toMs <= kept.fromMs) return SIGNS.blank;
  const count = openingsMs.filter((atMs) => atMs >= kept.fromMs && atMs < kept.toMs).length;
  return count === 0 ? ". " : count > 9 ? "9+" : `${count} `;
}
