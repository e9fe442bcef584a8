import type { Site } from "../../shared/site.js";
import { dueDeed, dueHow } from "../due/due-words.js";
import { type LetterBody, type Section, saying } from "../letters/body.js";
import { finishLetter } from "../letters/finish-letter.js";
import { type LetterContext, signatureOf } from "../letters/letter-context.js";
import { oneLine } from "../letters/one-line.js";
import { limitWords, type TemperatureUnit } from "../letters/temperature-words.js";
import { dateWords } from "../letters/time-words.js";
import { seasonHeading, seasonRows } from "../season/season-words.js";
import type { NewLetter } from "../store/records.js";
import {
  chamberSection,
  eventsSection,
  lettersSection,
  probesSection,
  unseenSection,
} from "./digest-sections.js";
import type { DigestFigures } from "./figures.js";
import { NEXT_STEPS, reasonSentence } from "./reason-words.js";
import type { SeasonFigures } from "./season-figures.js";
import type { WeekVerdict } from "./verdict.js";
import { type DigestYear, lateIn, yearCautions, yearSections } from "./year-sections.js";

const ALL_WELL = "Leave all as it is";
const MOST_STEPS = 5;

function verdictSection({ word, reasons }: WeekVerdict, unit: TemperatureUnit): Section {
  const why = reasons.map((reason) => reasonSentence(reason, unit));
  const calm = word === "sound" ? ["Nothing in the figures below speaks against it."] : [];
  return { heading: `The week was ${word}`, sentences: calm, points: why, figures: [] };
}

/** The winter so far, a section for each chamber; what its figures mean stands in the first. */
function seasonSections(season: SeasonFigures, site: Site, unit: TemperatureUnit): Section[] {
  const since = `Since ${dateWords(season.fromMs, site.timezone)}.`;
  const meaning =
    `Reserve is counted in days at ${limitWords(4, unit)} that would use as much of it; ` +
    "reckoned from the temperature, not measured, and the span says how unsure that is.";
  return season.chambers.flatMap((figures): Section[] => {
    const chamber = site.chambers.find(({ id }) => id === figures.chamberId);
    if (chamber === undefined || figures.fromMs === null) return [];
    const rows = seasonRows(figures, { chamber, unit, timezone: site.timezone });
    const sentences = [since, meaning];
    return [{ heading: seasonHeading(chamber.id), sentences, figures: rows }];
  });
}

/** What to do, gravest reason first, then what is late; one step for each deed. */
function nextSteps(
  { reasons }: WeekVerdict,
  year: DigestYear | null,
): { deed: string; steps: string[] } {
  // What warmed or chilled the cocoons sends the keeper to the events already.
  const isTold = reasons.some(({ kind }) => /^(warmth|frost|chill)$/.test(kind));
  const steps = reasons
    .filter(({ kind }) => !(isTold && kind === "excursions"))
    .map(({ kind }) => NEXT_STEPS[kind])
    .concat(lateIn(year).map((due) => ({ deed: dueDeed(due), step: dueHow(due) })));
  const once = steps.filter((step, i) => steps.findIndex((s) => s.deed === step.deed) === i);
  return {
    deed: once[0]?.deed ?? ALL_WELL,
    steps: once.slice(0, MOST_STEPS).map(({ deed, step }) => `${deed}. ${step}`),
  };
}

/**
 * The weekly letter. Its id is the span it tells of, so that the same week is sent once. Pure;
 * never throws.
 */
export function composeDigest(
  figures: DigestFigures,
  verdict: WeekVerdict,
  atMs: number,
  context: LetterContext,
  year: DigestYear | null = null,
): NewLetter {
  const { timezone } = context.site;
  const unit = context.temperatureUnit;
  const site = oneLine(figures.siteName, 80);
  // The last day that the span holds, not the first that it no longer does.
  const [from, to] = [figures.fromMs, figures.toMs - 1].map((ms) => dateWords(ms, timezone));
  const { deed, steps } = nextSteps(verdict, year);
  const unseen = unseenSection(figures, timezone, unit);
  const season = figures.season && seasonSections(figures.season, context.site, unit);
  const body: LetterBody = {
    direction: null,
    aside: `${site}: ${from} to ${to}`,
    deed: `${deed}: the week was ${verdict.word}.`,
    sections: [
      verdictSection(verdict, unit),
      ...(unseen === null ? [] : [unseen]),
      ...(year === null ? [] : yearSections(year, unit)),
      ...figures.chambers.map((week) => chamberSection(week, figures, timezone, unit)),
      eventsSection(figures, timezone, unit),
      ...(season ?? []),
      lettersSection(figures),
      probesSection(figures, timezone, unit),
    ],
    stepsAfter: unseen === null ? 1 : 2,
    stepsHeading: "What to do next",
    steps,
    cautions: yearCautions(year),
    closing: [saying("The next digest comes in a week. What cannot wait has a letter of its own.")],
    signature: signatureOf(context),
  };
  const heading = {
    id: `digest/${figures.fromMs}/${figures.toMs}`,
    kind: "digest",
    excursionId: null,
    createdAtMs: atMs,
    subject: `${deed}, the week was ${verdict.word}: ${site}`,
  } as const;
  return finishLetter(heading, body, { ...context, earlier: [] });
}
