import { addExposure, beginExposure, type Exposure, meanKineticC } from "../../rules/exposure.js";
import { localDayStarts, localMonthStarts } from "../../shared/local-days.js";
import type { Span } from "../../shared/site.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";
import { courseWithin } from "../drawing/course-runs.js";
import type { Course, Stretch, WinterMaterial } from "../drawing/material.js";

/** What one stretch of a winter was like for the cocoons. What is not known is null. */
export type StretchFigures = Readonly<{
  fromMs: number;
  toMs: number;
  /** Hours in which the cocoons' temperature was known, and hours of the watch in which not. */
  seenHours: number;
  unseenHours: number;
  inBandShare: number | null;
  /** Coldest and warmest, reading by reading. */
  cocoonSpanC: Span | null;
  meanKineticC: number | null;
  degreeHoursAbove: number;
  degreeHoursBelow: number;
  /** Equivalent days at 4 °C, Q10 2.5, and the span for Q10 2 and 3. */
  reserveDays: number | null;
  reserveDaysSpan: Span | null;
  humiditySpanPct: Span | null;
  humidityMeanPct: number | null;
  /** Shares of the hours whose mean was above and below the humidity band. */
  dampShare: number | null;
  dryShare: number | null;
  openings: number;
  /** Excursions that began in it and asked for a letter. */
  excursions: number;
}>;

/** A winter in figures: whole, by month, and by week from Monday on. */
export type Review = Readonly<{
  whole: StretchFigures;
  months: readonly StretchFigures[];
  /** Reckoned when asked for: a page of months does without. */
  weeks(): readonly StretchFigures[];
}>;

/** A step from one hour to the next that is not missing. */
const LONGEST_STEP_MS = 1.5 * HOUR_MS;

/**
 * Reckon a winter's figures by the hour, from the same material that its sheet is drawn from.
 *
 * The judge reckons the same sums reading by reading; hours smooth what passes within one, such as
 * an opening, so that shares near the edge of the band may differ by some per cent.
 */
export function reviewOf(material: WinterMaterial, timezone: string): Review {
  const { watched } = material;
  const figures = (stretch: Stretch) => figuresOf(material, stretch);
  const parts = (starts: readonly number[]) =>
    starts
      .slice(1)
      .map((toMs, i) => cut({ fromMs: starts[i]!, toMs }, watched))
      .filter(({ fromMs, toMs }) => toMs > fromMs)
      .map(figures);
  return {
    whole: figures(cut(material.span, watched)),
    months: parts(localMonthStarts(watched, timezone)),
    weeks: () => parts(weekStarts(watched, timezone)),
  };
}

const cut = (stretch: Stretch, within: Stretch): Stretch => ({
  fromMs: Math.max(stretch.fromMs, within.fromMs),
  toMs: Math.min(stretch.toMs, within.toMs),
});

function weekStarts(span: Stretch, timezone: string): number[] {
  const days = localDayStarts(span, timezone);
  return days.filter((dayMs, i) => i === 0 || i === days.length - 1 || isMonday(dayMs, timezone));
}

const weekdays = new Map<string, Intl.DateTimeFormat>();

/** Asked at midday, which no change of clocks moves to another day. */
function isMonday(dayMs: number, timezone: string): boolean {
  let format = weekdays.get(timezone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat("en-GB", { weekday: "short", timeZone: timezone });
    weekdays.set(timezone, format);
  }
  return format.format(dayMs + DAY_MS / 2) === "Mon";
}

function figuresOf(material: WinterMaterial, { fromMs, toMs }: Stretch): StretchFigures {
  const { bandC, humidityBandPct } = material;
  const cocoons = courseWithin(material.cocoons, fromMs, toMs);
  const humidity = courseWithin(material.humidity, fromMs, toMs);
  const sums = exposureOf(cocoons, bandC);
  const within = (atMs: number) => atMs >= fromMs && atMs < toMs;
  const seenHours = hoursIn(cocoons);
  return {
    fromMs,
    toMs,
    seenHours,
    unseenHours: Math.max(0, (toMs - fromMs) / HOUR_MS - seenHours),
    inBandShare: shareOf(cocoons, (meanC) => meanC >= bandC.low && meanC <= bandC.high),
    cocoonSpanC: spanOf(cocoons),
    meanKineticC: sums && meanKineticC(sums),
    degreeHoursAbove: sums?.degreeHoursAbove ?? 0,
    degreeHoursBelow: sums?.degreeHoursBelow ?? 0,
    reserveDays: sums?.reserveDays ?? null,
    reserveDaysSpan: sums && {
      low: Math.min(sums.reserveDaysQ2, sums.reserveDaysQ3),
      high: Math.max(sums.reserveDaysQ2, sums.reserveDaysQ3),
    },
    humiditySpanPct: spanOf(humidity),
    humidityMeanPct: meanOf(humidity),
    dampShare: shareOf(humidity, (meanPct) => meanPct > humidityBandPct.high),
    dryShare: shareOf(humidity, (meanPct) => meanPct < humidityBandPct.low),
    openings: material.openingsMs.filter(within).length,
    excursions: material.excursions.filter(
      ({ urgency, startedAtMs }) => urgency !== "note" && within(startedAtMs),
    ).length,
  };
}

/** The judge's own sums along the means of hours; each end is half an hour longer than they. */
function exposureOf(course: Course, bandC: Span): Exposure | null {
  let sums: Exposure | null = null;
  let endMs = 0;
  let lastC = 0;
  for (const { fromMs, toMs, mean } of course) {
    if (sums === null) sums = beginExposure(fromMs, mean);
    if (fromMs - endMs > 0 && endMs > 0) {
      // The unseen adds nothing: what was known ends with its last hour.
      sums = addExposure(sums, endMs, lastC, bandC, LONGEST_STEP_MS);
      sums = { ...sums, atMs: fromMs, cocoonC: mean };
    }
    sums = addExposure(sums, (fromMs + toMs) / 2, mean, bandC, LONGEST_STEP_MS);
    [endMs, lastC] = [toMs, mean];
  }
  return sums && addExposure(sums, endMs, lastC, bandC, LONGEST_STEP_MS);
}

const hoursIn = (course: Course): number =>
  course.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0) / HOUR_MS;

function shareOf(course: Course, isSo: (mean: number) => boolean): number | null {
  const known = hoursIn(course);
  return known === 0 ? null : hoursIn(course.filter(({ mean }) => isSo(mean))) / known;
}

function meanOf(course: Course): number | null {
  const known = hoursIn(course);
  const sum = course.reduce((all, piece) => all + piece.mean * (piece.toMs - piece.fromMs), 0);
  return known === 0 ? null : sum / HOUR_MS / known;
}

function spanOf(course: Course): Span | null {
  if (course.length === 0) return null;
  return {
    low: course.reduce((least, { low }) => Math.min(least, low), Infinity),
    high: course.reduce((most, { high }) => Math.max(most, high), -Infinity),
  };
}
