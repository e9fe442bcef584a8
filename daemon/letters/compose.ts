import type { Excursion, Finding, Urgency } from "../../shared/excursion.js";
import { MINUTE_MS } from "../../shared/time.js";
import type { NewLetter } from "../store/records.js";
import type { Answer, LetterBody } from "./body.js";
import { saying, telling } from "./body.js";
import { adviceOf } from "./cause-advice.js";
import { DARK_MEANING, darkSection } from "./dark-words.js";
import {
  comparedSentences,
  costFigures,
  lastedSentence,
  nowSection,
  saidSentences,
  sinceSentence,
} from "./finding-words.js";
import { finishLetter, type Heading } from "./finish-letter.js";
import { forecastWords, laterForecast } from "./forecast-words.js";
import { lateSentences } from "./late-words.js";
import { type LetterContext, placeWords, signatureOf } from "./letter-context.js";
import { pictureOfFinding } from "./letter-picture.js";
import { momentWords } from "./time-words.js";
import { URGENCY_WORDS } from "./urgency-words.js";
import { dampedSentence, isOfWater, waterAhead, waterMeaning } from "./water-words.js";

export { composeTrial } from "./compose-trial.js";
export type { LetterContext } from "./letter-context.js";

const WHEN: Readonly<Record<Urgency, string>> = { note: "", visit: " today", rush: " now" };
const ACKNOWLEDGE = "drowse now --acknowledge";

/** How to answer, and when the next letter comes. */
function answers(urgency: Urgency, excursionId: string): Answer[] {
  // An id that a shell would read otherwise is left for `drowse now` to show.
  const mine = /^[\w.:/-]+$/.test(excursionId) ? `${ACKNOWLEDGE} ${excursionId}` : "drowse now";
  return urgency === "rush"
    ? [
        {
          sentence: "This letter comes again until it is over or you say that you have seen it:",
          command: ACKNOWLEDGE,
        },
        saying("Once you have said so, the next letter of this thread comes when it is over."),
      ]
    : [
        { sentence: "No answer is needed. To say that you have seen this:", command: mine },
        saying("The next letter comes when it is over, or sooner if more is known."),
      ];
}

/** How long there is; nothing where no time presses, as with a probe's fault. */
function aheadWords(finding: Finding, { site, temperatureUnit }: LetterContext): string[] {
  if (isOfWater(finding)) return waterAhead(finding, site);
  const { direction } = adviceOf(finding);
  const isThermal = (direction === "warm" || direction === "cold") && !finding.beside?.dark;
  return isThermal || finding.forecast !== null
    ? forecastWords(finding.forecast, finding.cocoonC, temperatureUnit)
    : [];
}

function meaningOf(finding: Finding): string[] {
  if (finding.beside?.dark) return [DARK_MEANING];
  return isOfWater(finding) ? waterMeaning(finding) : [];
}

function composeOngoing(finding: Finding, context: LetterContext, heading: Heading, lead: string) {
  const { site, temperatureUnit: unit } = context;
  const advice = adviceOf(finding);
  const place = placeWords(finding);
  const ahead = aheadWords(finding, context);
  const dark = darkSection(finding, site, unit);
  const compared = [...comparedSentences(finding, site, unit), ...meaningOf(finding)];
  const happened = [
    ...(lead ? [lead] : []),
    advice.happened,
    ...saidSentences(finding, unit),
    ...(dark === null ? [sinceSentence(finding, site)] : []),
    ...dampedSentence(finding, site),
  ];
  const late = lateSentences(finding, site);
  const sections = [
    telling("What happened", ...happened),
    ...(dark === null ? [] : [dark]),
    { ...nowSection(finding, site, unit), picture: pictureOfFinding(finding, site, unit) },
    ...(ahead.length === 0 ? [] : [telling("How long there is", ...ahead)]),
    ...(late.length === 0 ? [] : [telling("It is late in their winter", ...late)]),
  ];
  const body: LetterBody = {
    direction: advice.direction,
    aside: `${place}: ${advice.state}, ${URGENCY_WORDS[finding.urgency]}`,
    deed: `${advice.deed}${WHEN[finding.urgency]}: ${place}.`,
    sections:
      compared.length > 0 ? [...sections, telling("What this rests on", ...compared)] : sections,
    stepsAfter: sections.length,
    stepsHeading: "Step by step",
    steps: advice.steps,
    cautions: advice.cautions,
    closing: answers(finding.urgency, finding.excursionId),
    signature: signatureOf(context),
  };
  return finishLetter(heading, body, context);
}

function composeClosing(finding: Finding, context: LetterContext): NewLetter {
  const { site, temperatureUnit: unit } = context;
  const advice = adviceOf(finding);
  const place = placeWords(finding);
  const dark = darkSection(finding, site, unit);
  const costs = costFigures(finding, unit);
  const lasted = lastedSentence(finding.startedAtMs, finding.atMs, site);
  const compared = [...comparedSentences(finding, site, unit), ...meaningOf(finding)];
  const body: LetterBody = {
    direction: advice.direction,
    aside: `${place}: over`,
    deed: `${advice.over}: ${place}.`,
    sections: [
      telling("What happened", advice.wasSo, ...saidSentences(finding, unit), lasted),
      ...(dark === null ? [] : [dark]),
      { ...nowSection(finding, site, unit), picture: pictureOfFinding(finding, site, unit) },
      ...(costs.length > 0
        ? [{ heading: "What it took", sentences: [], figures: costs }]
        : [telling("What it took", "Nothing that shows in the cocoons' figures.")]),
      ...(compared.length > 0 ? [telling("What this rests on", ...compared)] : []),
    ],
    stepsAfter: dark === null ? 3 : 4,
    stepsHeading: "To see to afterwards",
    steps: advice.afterwards,
    cautions: [],
    closing: [saying("This thread ends here. If it happens again, a new one begins.")],
    signature: signatureOf(context),
  };
  const heading = {
    id: `${finding.excursionId}/ended`,
    kind: "closing",
    excursionId: finding.excursionId,
    createdAtMs: finding.atMs,
    subject: `${advice.over}: ${place}`,
  } as const;
  return finishLetter(heading, body, context);
}

/**
 * The letter that a finding calls for, or null: a `note` waits for the digest, and what ended
 * without ever having had a letter needs none now. Pure; never throws.
 */
export function composeLetter(finding: Finding, context: LetterContext): NewLetter | null {
  const first = context.earlier.length === 0;
  if (finding.change === "ended") return first ? null : composeClosing(finding, context);
  if (finding.urgency === "note") return null;
  const heading = {
    id: `${finding.excursionId}/${finding.change}/${finding.atMs}`,
    kind: first ? "opening" : "raised",
    excursionId: finding.excursionId,
    createdAtMs: finding.atMs,
    subject: `${adviceOf(finding).deed}: ${placeWords(finding)}`,
  } as const;
  const before = context.earlier.at(-1);
  const lead =
    before === undefined
      ? ""
      : `More is known than in the letter of ${momentWords(before.createdAtMs, context.site.timezone)}; this one takes its place.`;
  return composeOngoing(finding, context, heading, lead);
}

/** Say once more what is still to be done, with the latest values. Pure; never throws. */
export function composeReminder(
  excursion: Excursion,
  latest: Readonly<{ cocoonC: number | null; airC: number | null }>,
  atMs: number,
  context: LetterContext,
): NewLetter {
  const { cocoonC, airC } = latest;
  const goneMin = (atMs - excursion.latest.atMs) / MINUTE_MS;
  const finding: Finding = {
    ...excursion.latest,
    atMs,
    cocoonC,
    airC,
    humidityPct: null,
    forecast: laterForecast(excursion.latest.forecast, goneMin),
    startedAtMs: excursion.startedAtMs,
    cause: excursion.cause,
    urgency: excursion.urgency,
  };
  const count = context.earlier.filter((letter) => letter.kind === "reminder").length + 1;
  const heading = {
    id: `${excursion.id}/reminder/${atMs}`,
    kind: "reminder",
    excursionId: excursion.id,
    createdAtMs: atMs,
    subject: `${adviceOf(finding).deed} (reminder ${count}): ${placeWords(excursion)}`,
  } as const;
  const lead = `This is reminder ${count}: nobody has said yet that they have seen it.`;
  return composeOngoing(finding, context, heading, lead);
}
