import { isBorrowed, isKnown, isSet } from "../../rules/species.js";
import type { MouldLooks } from "../../rules/year/lot-looks.js";
import type { LotRemark } from "../../rules/year/lot-remarks.js";
import type { Proportion } from "../../rules/year/proportion.js";
import type { Figure, Section } from "../letters/body.js";
import { adviceFor } from "../letters/cause-advice.js";
import { oneLine } from "../letters/one-line.js";
import {
  degreeHourWords,
  limitWords,
  numberWords,
  spanWords,
  type TemperatureUnit,
} from "../letters/temperature-words.js";
import { calendarWords, dateWords } from "../letters/time-words.js";
import type { LotReport, SampleReport } from "./lot-report.js";

const figure = (label: string, value: string, ...remarks: (string | false)[]): Figure => ({
  label,
  value,
  remark: remarks.filter(Boolean).join("; ") || null,
});

const days = (count: number): string =>
  `${numberWords(count, 0)} day${Math.round(count) === 1 ? "" : "s"}`;
const percent = (share: number): string => `${numberWords(share * 100, 0)} %`;

/** A lot in a page's, a command's or a letter's words. */
export function lotSection(report: LotReport, timezone: string, unit: TemperatureUnit): Section {
  const remarks = report.remarks.map((remark) => remarkSentence(remark, unit));
  return {
    heading: oneLine(report.lot.id, 60),
    sentences: report.lot.words === "" ? [] : [oneLine(report.lot.words, 400)],
    points: remarks,
    figures: [
      ...originFigures(report),
      ...whereFigures(report, timezone),
      ...seasonFigures(report, unit),
      ...mouldFigures(report, timezone),
      ...report.samples.flatMap(sampleFigure),
      ...shareFigures(report),
    ],
  };
}

function originFigures({ lot, course, sexRatio, profile }: LotReport): Figure[] {
  const { opened, lost, releasedSmall, releasedLarge } = course;
  const out = releasedSmall + releasedLarge;
  const figures = [
    figure(
      "Species",
      oneLine(profile.name, 60),
      !isKnown(profile) && "no figures are known for it, so those of other mason bees stand in",
    ),
    figure(
      "Cocoons",
      `${lot.large} large, ${lot.small} small`,
      opened > 0 && `${opened} opened`,
      lost > 0 && `${lost} found spoilt`,
      out > 0 && `${out} put out to fly`,
    ),
  ];
  if (sexRatio !== null) figures.push(sexFigure(sexRatio));
  if (lot.origin !== "") figures.push(figure("Origin", oneLine(lot.origin, 100)));
  if (lot.harvestedOn !== null) figures.push(figure("Harvested", calendarWords(lot.harvestedOn)));
  if (lot.box !== "") figures.push(figure("Box", oneLine(lot.box, 100)));
  if (lot.warmDays !== null) figures.push(figure("Warm before the cold", days(lot.warmDays)));
  return figures;
}

function sexFigure({ females, malesPerFemale, malesPerFemaleSpan }: SexRatioOf): Figure {
  const value = `${percent(females.share)} females`;
  const { low, high } = malesPerFemaleSpan;
  const most = Number.isFinite(high) ? ` to ${numberWords(high, 1)}` : " or more";
  const ratio =
    malesPerFemale === null
      ? `${numberWords(low, 1)}${most} males to a female`
      : `${numberWords(malesPerFemale, 1)} males to a female, ${numberWords(low, 1)}${most} by chance alone`;
  return figure("To expect", value, ratio, "large cocoons are taken for females, small for males");
}

type SexRatioOf = NonNullable<LotReport["sexRatio"]>;

function whereFigures(report: LotReport, timezone: string): Figure[] {
  const { course, chamberId, coldFromOn, latestOn, season, profile } = report;
  const last = course.stays.at(-1);
  if (coldFromOn === null || last === undefined)
    return [figure("Where", course.overAtMs === null ? "not in the cold yet" : "over")];
  const since = dateWords(last.toMs ?? last.fromMs, timezone);
  const where =
    course.overAtMs !== null
      ? `over since ${dateWords(course.overAtMs, timezone)}`
      : chamberId === null
        ? `out of the cold since ${since}`
        : `in ${oneLine(chamberId, 60)} since ${since}`;
  const moves = course.stays.length > 1 && `its ${course.stays.length} stays counted together`;
  const { storageDays } = profile;
  const usual = isSet(storageDays)
    ? `the ${storageDays.value.high} days set for its species`
    : `what is usual for ${isBorrowed(profile, storageDays) ? "other mason bees" : "its species"}`;
  const sound = latestOn !== null && course.overAtMs === null;
  return [
    figure("Where", where),
    figure(
      "In the cold",
      `${days(season.storedDays)} since ${calendarWords(coldFromOn)}`,
      `${days(season.seenDays)} of them seen`,
      moves,
    ),
    ...(sound
      ? [
          figure(
            "Sound storage until",
            calendarWords(latestOn),
            `the soonest of three: ${usual}, what a study of wintering found, its reserve`,
          ),
        ]
      : []),
  ];
}

function seasonFigures({ season, profile }: LotReport, unit: TemperatureUnit): Figure[] {
  const { cocoonSpanC, reserveDaysSpan, worst } = season;
  if (cocoonSpanC === null) return [];
  const chill = `at or below ${limitWords(profile.chillBelowC.value, unit)}`;
  const least = reserveDaysSpan.low;
  const span = `${numberWords(least, 0)} to ${numberWords(reserveDaysSpan.high, 0)}`;
  const figures = [
    figure("Chill", days(season.chillDays), chill),
    figure(
      "Reserve used",
      `about ${days(season.reserveDays)}`,
      `${span}; days at ${limitWords(4, unit)} that would use as much; reckoned, not measured`,
    ),
    figure("Coldest and warmest", spanWords(cocoonSpanC, unit)),
    figure(
      "Outside the band",
      `${degreeHourWords(season.degreeHoursAbove, unit)} above, ${degreeHourWords(season.degreeHoursBelow, unit)} below`,
    ),
  ];
  if (worst !== null)
    figures.push(figure("Worst event", adviceFor(worst.cause).name, worst.urgency));
  return figures;
}

/** The model's index, and what the keeper's own eyes say beside it. */
function mouldFigures({ season, mouldLooked }: LotReport, timezone: string): Figure[] {
  const { mouldIndex } = season;
  const looked = mouldLooked && lookedWords(mouldLooked, timezone);
  if (mouldIndex !== null)
    return [
      figure(
        "Mould index",
        numberWords(mouldIndex, 1),
        "0 to 6, from a model made for pine wood",
        looked !== null && `you saw ${looked}`,
      ),
    ];
  return looked === null ? [] : [figure("Mould", `you saw ${looked}`)];
}

function lookedWords({ lookedMs, seen, seenMs }: MouldLooks, timezone: string): string {
  const last = `${seen ? "some" : "none"} on ${dateWords(lookedMs, timezone)}`;
  return seen || seenMs === null ? last : `${last}, but some on ${dateWords(seenMs, timezone)}`;
}

function sampleFigure({ label, cocoons, loss, weighings }: SampleReport): Figure {
  const name = `Mass of sample ${oneLine(label, 40)}`;
  const last = weighings.at(-1)!;
  if (loss === null) return figure(name, `${last.massG} g`, `${cocoons} cocoons, weighed once`);
  const { pctIn30Days, expandedPct, isSeen } = loss;
  const way = pctIn30Days < 0 ? "gained" : "lost";
  return figure(
    name,
    `${numberWords(Math.abs(pctIn30Days), 1)} % ${way} in 30 days`,
    `give or take ${numberWords(expandedPct, 1)} %, ${cocoons} cocoons, ${loss.weighings} weighings over ${days(loss.days)}`,
    !isSeen && "no more than the weighing itself may be off",
    "most of it is water, and what loss does harm is not known",
  );
}

function shareFigures({ parasitised, dead, course }: LotReport): Figure[] {
  const share = (label: string, found: Proportion | null): Figure[] =>
    found === null
      ? []
      : [
          figure(
            label,
            percent(found.share),
            `${percent(found.span.low)} to ${percent(found.span.high)} of the lot, from ${course.opened} opened`,
          ),
        ];
  return [...share("Parasitised", parasitised), ...share("Dead", dead)];
}

/** What is to be said of a lot, in one sentence. */
export function remarkSentence(remark: LotRemark, unit: TemperatureUnit): string {
  switch (remark.kind) {
    case "ends":
      return remark.daysLeft < 0
        ? `Its sound storage ended on ${calendarWords(remark.on)}, ${days(-remark.daysLeft)} ago.`
        : `Its sound storage ends on ${calendarWords(remark.on)}, in ${days(remark.daysLeft)}.`;
    case "too-warm":
      return `In ${remark.hours} ${remark.hours === 1 ? "hour" : "hours"} its cocoons reached ${limitWords(remark.fromC, unit)} or more, which a study of male Osmia lignaria found unsuitable for wintering of any length tried.`;
    case "taken-out":
      return `Since it first went into the cold it was out of it for ${days(remark.days)}; what it felt then is not known.`;
    case "came-late":
      return `It came late: ${days(remark.warmDays)} warm before the cold, where at most ${remark.mostDays} are advised.`;
    case "unseen":
      return `Of its time in the cold ${days(remark.days)} were not seen, so its figures are too low.`;
  }
}
