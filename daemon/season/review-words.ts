import { shareWords } from "../digest/reason-words.js";
import type { Figure } from "../letters/body.js";
import { oneLine } from "../letters/one-line.js";
import {
  degreeHourWords,
  limitWords,
  numberWords,
  spanWords,
  type TemperatureUnit,
  temperatureWords,
} from "../letters/temperature-words.js";
import { dateWords } from "../letters/time-words.js";
import type { StretchFigures } from "./review.js";
import type { Season } from "./season.js";
import { seasonRows } from "./season-words.js";

const NOT_KNOWN = "not known";

/** "2026 to 2027", or "2026" where it began and ended in one year: what a season is called. */
export function reviewName({ material }: Season, timezone: string): string {
  const { fromMs, toMs } = material.span;
  const [from, to] = [fromMs, toMs - 1].map((ms) => dateWords(ms, timezone).split(" ").at(-1));
  return from === to ? from! : `${from} to ${to}`;
}

/** "shed, 1 October 2026 to 31 March 2027". */
export function reviewHeading({ chamber, material }: Season, timezone: string): string {
  const { fromMs, toMs } = material.watched;
  const [from, to] = [fromMs, Math.max(fromMs, toMs - 1)].map((ms) => dateWords(ms, timezone));
  return `${oneLine(chamber.id, 60)}, ${from} to ${to}`;
}

/** What the judge tells as well, and this review of any stretch. */
const RECKONED_HERE = new Set(["Reserve used", "In band", "Mean kinetic temperature", "Not seen"]);

/** The whole season in figures; the same lines whatever is known, so that two stand side by side. */
export function reviewFigures(
  { review, chamber, judged }: Season,
  { unit, timezone }: Readonly<{ unit: TemperatureUnit; timezone: string }>,
): Figure[] {
  const { whole } = review;
  const figure = (label: string, value: string, remark: string | null = null): Figure => ({
    label,
    value,
    remark,
  });
  return [
    figure(
      "Cocoons in band",
      known(whole.inBandShare, shareWords),
      `of ${numberWords(whole.seenHours, 0)} hours seen; band ${spanWords(chamber.bandC, unit)}`,
    ),
    figure("Coldest, warmest", extremes(whole, unit)),
    figure(
      "Mean kinetic temperature",
      known(whole.meanKineticC, (c) => temperatureWords(c, unit)),
    ),
    figure("Above the band", degreeHourWords(whole.degreeHoursAbove, unit)),
    figure("Below the band", degreeHourWords(whole.degreeHoursBelow, unit)),
    figure(
      "Reserve used",
      known(whole.reserveDays, (days) => `about ${daysWords(days)}`),
      reserveRemark(whole, unit),
    ),
    figure("Humidity", humidity(whole), humidityRemark(whole)),
    figure("Ordinary openings", String(whole.openings)),
    figure("Excursions with a letter", String(whole.excursions)),
    figure("Not seen", `${numberWords(whole.unseenHours, 0)} h`),
    ...(judged === null ? [] : seasonRows(judged, { chamber, unit, timezone })).filter(
      ({ label }) => !RECKONED_HERE.has(label),
    ),
  ];
}

const known = (value: number | null, words: (value: number) => string): string =>
  value === null ? NOT_KNOWN : words(value);

function extremes({ cocoonSpanC }: StretchFigures, unit: TemperatureUnit): string {
  if (cocoonSpanC === null) return NOT_KNOWN;
  const { low, high } = cocoonSpanC;
  return `${temperatureWords(low, unit)}, ${temperatureWords(high, unit)}`;
}

function reserveRemark({ reserveDaysSpan }: StretchFigures, unit: TemperatureUnit): string | null {
  if (reserveDaysSpan === null) return null;
  const [low, high] = [reserveDaysSpan.low, reserveDaysSpan.high].map((d) => numberWords(d, 0));
  return `${low} to ${high}; days at ${limitWords(4, unit)} that would use as much, reckoned`;
}

function humidity({ humidityMeanPct, humiditySpanPct }: StretchFigures): string {
  if (humidityMeanPct === null || humiditySpanPct === null) return "not measured";
  const [low, high] = [humiditySpanPct.low, humiditySpanPct.high].map((p) => numberWords(p, 0));
  return `${low} to ${high} %, ${numberWords(humidityMeanPct, 0)} % on average`;
}

function humidityRemark({ dampShare, dryShare }: StretchFigures): string | null {
  if (dampShare === null || dryShare === null) return null;
  return `damper than its band ${shareWords(dampShare)} of the hours, drier ${shareWords(dryShare)}`;
}

/** Whole days: "1 day", "120 days". */
export function daysWords(days: number): string {
  const words = numberWords(days, 0);
  return `${words} ${words === "1" ? "day" : "days"}`;
}
