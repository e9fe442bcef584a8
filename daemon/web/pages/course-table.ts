import type { Span } from "../../../shared/site.js";
import { shareWords } from "../../digest/reason-words.js";
import type { Course, Stretch } from "../../drawing/material.js";
import { type Filling, html, type Markup } from "../../html.js";
import { spanWords } from "../../letters/temperature-words.js";
import { setTable } from "../look/set-table.js";
import type { Asking } from "../page.js";
import { bound, wordsFor } from "../words.js";

/** A row of a table behind a picture: a stretch of time, and what stands at its head. */
export type Row = Stretch & Readonly<{ head: Filling; more?: readonly Filling[] }>;

/** The quantities of a chamber, each through time. */
export type Courses = Readonly<{ cocoons: Course; air?: Course; humidity: Course; bandC: Span }>;

/** The figures behind a picture, one row for each stretch: how far each quantity reached. */
export function setCourseTable(
  caption: string,
  headWord: string,
  rows: readonly Row[],
  courses: Courses,
  asking: Asking,
  moreHeads: readonly string[] = [],
): Markup {
  const { cocoons, air, humidity, bandC } = courses;
  const { temperatureUnit: unit } = asking.config;
  const [ofCocoons, ofAir, ofHumidity] = [cocoons, air ?? [], humidity].map(openReach);
  const degrees = (reach: Reach | null) => (reach === null ? "" : bound(spanWords(reach, unit)));
  const body = rows.map((row) => {
    const warmth = ofCocoons!(row);
    return [
      row.head,
      degrees(warmth),
      warmth === null ? "" : shareWords(inBand(cocoons, row, bandC) ?? 0),
      ...(air === undefined ? [] : [degrees(ofAir!(row))]),
      percents(ofHumidity!(row), asking),
      ...(row.more ?? []),
    ];
  });
  return setTable(
    caption,
    [
      { head: headWord },
      { head: "Cocoons", kind: "number" },
      { head: "In band", kind: "number" },
      ...(air === undefined ? [] : [{ head: "Air", kind: "number" as const }]),
      { head: "Humidity", kind: "number" },
      ...moreHeads.map((head) => ({ head, kind: "number" as const })),
    ],
    body,
  );
}
type Reach = Span;

/** How far a course reached within stretches asked for in order of time. */
function openReach(course: Course): (stretch: Stretch) => Reach | null {
  let next = 0;
  return ({ fromMs, toMs }) => {
    while (next < course.length && course[next]!.toMs <= fromMs) next += 1;
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = next; i < course.length && course[i]!.fromMs < toMs; i++) {
      low = Math.min(low, course[i]!.low);
      high = Math.max(high, course[i]!.high);
    }
    return low > high ? null : { low, high };
  };
}

function percents(reach: Reach | null, asking: Asking): string {
  if (reach === null) return "";
  const { percent } = wordsFor(asking);
  const [low, high] = [percent(reach.low), percent(reach.high)];
  return low === high ? low : `${low.replace(/\u00a0%$/, "")} to ${high}`;
}

/** Share of the time known within a stretch in which the mean was in the band. */
function inBand(course: Course, { fromMs, toMs }: Stretch, band: Span): number | null {
  let [known, inside] = [0, 0];
  for (const piece of course) {
    const ms = Math.min(toMs, piece.toMs) - Math.max(fromMs, piece.fromMs);
    if (ms <= 0) continue;
    known += ms;
    if (piece.mean >= band.low && piece.mean <= band.high) inside += ms;
  }
  return known === 0 ? null : inside / known;
}

/** A row's head that the script can find in time. */
export const timedHead = ({ fromMs, toMs }: Stretch, words: Filling, href?: string): Markup => {
  const time = html`<time datetime="${new Date(fromMs).toISOString()}" data-to="${toMs}">${words}</time>`;
  return href === undefined ? time : html`<a href="${href}">${time}</a>`;
};
