import type { Due } from "../../rules/year/due.js";
import type { ReleaseReason } from "../../rules/year/release.js";
import { type CalendarDay, daysBetween } from "../../shared/calendar-day.js";
import type { Section } from "../letters/body.js";
import { MOULD_DUST, PESTS, WATER } from "../letters/cautions.js";
import { oneLine } from "../letters/one-line.js";
import { limitWords, numberWords, type TemperatureUnit } from "../letters/temperature-words.js";
import { calendarWords } from "../letters/time-words.js";
import type { YearReport } from "./gather-due.js";
import type { LotVerdict, ReleaseReport } from "./judge-lots.js";

const name = (text: string): string => oneLine(text, 60);
const days = (count: number): string => `${numberWords(count, 0)} day${count === 1 ? "" : "s"}`;

/** What is to be done, as an order: "Damp the paper in shed". */
export function dueDeed(due: Due): string {
  switch (due.kind) {
    case "damp":
      return `Damp the paper in ${name(due.chamberId)}`;
    case "inspect":
      return `Look through the boxes in ${name(due.chamberId)}`;
    case "check":
      return `Check the probe ${name(due.probeId)}`;
    case "weigh":
      return `Weigh sample ${name(due.label)} of ${name(due.lotId)}`;
    case "release":
      return `Put out the ${due.count} ${due.size} cocoons of ${name(due.lotId)}`;
    case "storage-ends":
      return `Sound storage of ${name(due.lotId)} ends`;
  }
}

/** How it is done, what tells that it is due, and how it is then written down. */
export function dueHow(due: Due): string {
  const command = dueCommand(due);
  return command === null ? dueWay(due) : `${dueWay(due)} Then: ${command}`;
}

/** The command that writes it down, or leads through it; null where there is none. */
function dueCommand(due: Due): string | null {
  switch (due.kind) {
    case "damp":
      return `drowse tend damped ${due.chamberId}`;
    case "inspect":
      return `drowse tend inspected ${due.chamberId} --saw nothing, or what there was`;
    case "weigh":
      return `drowse lot weigh ${due.lotId}`;
    case "release":
      return `drowse lot release ${due.lotId} --${due.size} ${due.count}`;
    default:
      return null;
  }
}

/** How it is done, and what tells that it is due. */
export function dueWay(due: Due): string {
  switch (due.kind) {
    case "damp":
      return due.by === "trend"
        ? "By the trend of its humidity, it falls below its band about then. A few drops on the paper, not on the cocoons."
        : "By the calendar, two to four weeks after the last time, since no trend tells a day. Look first: where it is damp, leave it. A few drops on the paper, not on the cocoons.";
    case "inspect":
      return "Look at some cocoons of each box, the lowest layer first: mould, bees out of their cocoons, mites, wasps, beetles, flies.";
    case "check":
      return due.isFirst
        ? "It was never compared with a thermometer to be trusted; drowse check leads through it."
        : `It is time to compare it with a thermometer to be trusted; drowse check leads through it.${due.isDrifting ? " It had drifted between its last two checks, so do not put it off." : ""}`;
    case "weigh":
      return "The same cocoons as before, dry and at fridge temperature.";
    case "release":
      return `${due.size === "small" ? "Small ones are mostly males and go first." : "Large ones are mostly females and follow their males."} In the shade, near forage, out of the reach of birds and ants.`;
    case "storage-ends":
      return "For longer than that nobody has shown that storage does no harm.";
  }
}

/** What to take care of while doing it. */
export function dueCautions({ kind }: Due): readonly string[] {
  if (kind === "damp" || kind === "check") return [WATER];
  return kind === "inspect" ? [MOULD_DUST, PESTS] : [];
}

/** When it is due, seen from today: "today", "on 20 January 2026, 3 days ago". */
export function dueWhen(due: Due, today: CalendarDay): string {
  const { on } = due;
  const ahead = daysBetween(today, on);
  if (due.kind === "check" && due.isFirst) return `since it was first heard, ${calendarWords(on)}`;
  if (ahead === 0) return "today";
  const away = ahead > 0 ? `in ${days(ahead)}` : `${days(-ahead)} ago`;
  return `on ${calendarWords(on)}, ${away}`;
}

/** What falls due within so many days, what is late included. */
export function dueWithin({ due, today }: YearReport, within: number): readonly Due[] {
  return due.filter(({ on }) => daysBetween(today, on) <= within);
}

/** A section on what is due, for a letter or a page; null where nothing is. */
export function dueSection(report: YearReport, within: number): Section | null {
  const due = dueWithin(report, within);
  if (due.length === 0) return null;
  const figures = due.map((one) => ({
    label: dueDeed(one),
    value: dueWhen(one, report.today),
    remark: dueHow(one),
  }));
  return { heading: "What is due", sentences: [], figures };
}

/** A condition of a release as it stands, in one sentence. */
function reasonSentence(reason: ReleaseReason, unit: TemperatureUnit, warmC: number): string {
  const limit = limitWords(warmC, unit);
  switch (reason.condition) {
    case "warmth": {
      if (!reason.known) return "How warm it is outdoors is not known, for no probe measures it.";
      if (reason.days === 0) return `Yesterday was not as warm as ${limit}, nor is today so far.`;
      const since = calendarWords(reason.since!);
      return reason.days === 1
        ? `One day so far, ${since}, was as warm as ${limit}${reason.met ? "." : ", which is too few."}`
        : `${reason.days} days in a row, since ${since}, were as warm as ${limit}${reason.met ? "." : ", which is too few."}`;
    }
    case "chill":
      return reason.days === null
        ? "How long they were in the cold is not known."
        : reason.met
          ? `They have had ${days(Math.floor(reason.days))} of cold, and ${reason.neededDays} are enough to emerge best.`
          : `They have had ${days(Math.floor(reason.days))} of cold of the ${reason.neededDays} after which they emerge best.`;
    case "bloom":
      if (reason.met) return `Bloom was seen on ${calendarWords(reason.on!)}.`;
      return reason.stale
        ? `Bloom was last seen on ${calendarWords(reason.on!)}, too long ago to say anything of today.`
        : "No bloom was written into the journal; drowse tend bloom does it.";
  }
}

const WORDS = { hold: "Hold", soon: "Soon", ready: "Ready" } as const;

/** Whether to let go, why, and in which stages. */
export function releaseSection(
  release: ReleaseReport,
  unit: TemperatureUnit,
  warmC: number,
): Section {
  const isFooled = release.lots.some(({ verdict }) => verdict.isFalseSpring);
  const shown = release.lots.map((lot) => verdictPoint(lot, unit, warmC));
  const stages = release.stages.map(({ on, lotId, size, count, latestOn, spareDays }) => ({
    label: calendarWords(on),
    value: `${count} ${size} cocoons of ${name(lotId)}`,
    remark:
      latestOn === null || spareDays === null
        ? null
        : spareDays < 0
          ? `their sound storage ended on ${calendarWords(latestOn)}`
          : `the rest can stay until ${calendarWords(latestOn)}`,
  }));
  return {
    heading: `Release: ${WORDS[release.word].toLowerCase()}`,
    sentences: [
      ...(isFooled && release.word === "hold"
        ? ["It is warm outdoors, but a warm spell is no spring: see what speaks against it."]
        : []),
      "Bloom and the advice of those who know your place decide, not this reckoning.",
    ],
    points: [...new Set(shown)],
    figures: stages,
  };
}

function verdictPoint(
  { lotId, verdict, unseenDays, latestOn }: LotVerdict,
  unit: TemperatureUnit,
  warmC: number,
): string {
  const reasons = verdict.reasons.map((reason) => reasonSentence(reason, unit, warmC));
  const unseen = unseenDays >= 1 ? [`Of these ${days(Math.round(unseenDays))} were not seen.`] : [];
  const stay = latestOn === null ? [] : [`Sound storage until ${calendarWords(latestOn)}.`];
  return `${name(lotId)}: ${verdict.word}. ${[...reasons, ...unseen, ...stay].join(" ")}`;
}
