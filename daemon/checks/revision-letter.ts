import type { ChamberFigures } from "../../rules/season.js";
import type { Finding } from "../../shared/excursion.js";
import { type Figure, type LetterBody, type Section, saying, telling } from "../letters/body.js";
import { adviceFor } from "../letters/cause-advice.js";
import { finishLetter } from "../letters/finish-letter.js";
import { type LetterContext, signatureOf } from "../letters/letter-context.js";
import { oneLine } from "../letters/one-line.js";
import {
  degreeHourWords,
  numberWords,
  type TemperatureUnit,
  temperatureWords,
} from "../letters/temperature-words.js";
import { dateWords, momentWords } from "../letters/time-words.js";
import type { NewLetter } from "../store/records.js";
import type { CheckEntry, CheckMade } from "./record.js";
import { askedForLetter, goesOn, type RevisionPlan, type Told } from "./revision-plan.js";
import { correctionWords } from "./words.js";

/** What had a chamber judged anew, and what came of it. */
export type ChamberRevision = Readonly<{
  chamberId: string;
  fromMs: number;
  /** Entries that had it judged anew; of a withdrawal the check that is withdrawn. */
  entries: readonly Readonly<{ entry: CheckEntry; check: CheckMade }>[];
  plan: RevisionPlan;
  /** The winter so far, as it was judged and as it is judged now. */
  was: ChamberFigures;
  is: ChamberFigures;
}>;

const MOST_EVENTS = 20;

/** The id of the letter that tells what a chamber's judgement anew changed. */
export const revisionLetterId = (chamberId: string, entryNo: number): string =>
  `check/${entryNo}/${chamberId}`;

/** Tell what changed when a chamber was judged anew. Pure; never throws. */
export function composeRevision(
  revision: ChamberRevision,
  entryNo: number,
  atMs: number,
  context: LetterContext,
): NewLetter {
  const { temperatureUnit: unit } = context;
  const { timezone } = context.site;
  const place = oneLine(revision.chamberId, 60);
  const since = dateWords(revision.fromMs, timezone);
  const deed = "Read what a check of a probe changed";
  const body: LetterBody = {
    direction: null,
    aside: `${place}: judged anew since ${since}`,
    deed: `${deed}: ${place}.`,
    sections: [
      telling("What happened", ...reasons(revision, context)),
      { heading: "The winter so far", sentences: [], figures: comparison(revision, unit) },
      ...eventSections(revision.plan, timezone),
    ],
    stepsAfter: 3,
    stepsHeading: "Step by step",
    steps: [],
    cautions: [],
    closing: [
      saying("Letters that were sent stay as they were; what they told is kept beside this."),
      { sentence: "The history of this site's checks:", command: "drowse check --history" },
    ],
    signature: signatureOf(context),
  };
  const heading = {
    id: revisionLetterId(revision.chamberId, entryNo),
    kind: "board",
    excursionId: null,
    createdAtMs: atMs,
    subject: `${deed}: ${place}`,
  } as const;
  return finishLetter(heading, body, { ...context, earlier: [] });
}

function reasons({ entries, fromMs }: ChamberRevision, context: LetterContext): string[] {
  const { timezone } = context.site;
  const told = entries.map(({ entry, check }) => {
    const probe = oneLine(check.probeId, 60);
    const made = dateWords(check.madeAtMs, timezone);
    if (entry.kind === "withdrawal") return `The check of ${probe} of ${made} was withdrawn.`;
    const { quantity, result } = check;
    const done = correctionWords(result.correction, { quantity, unit: context.temperatureUnit });
    return `By the check of ${probe} of ${made}, its ${quantity} is read with ${done}.`;
  });
  const since = dateWords(fromMs, timezone);
  return [
    ...told,
    `All that was judged from ${since} on was judged anew. Raw readings stay as they were.`,
  ];
}

function comparison({ was, is }: ChamberRevision, unit: TemperatureUnit): Figure[] {
  const rows: Figure[] = [];
  const add = (label: string, words: (figures: ChamberFigures) => string | null): void => {
    const [before, now] = [words(was), words(is)];
    if (now === null) return;
    const remark = before === now ? "as before" : `was ${before ?? "not known"}`;
    rows.push({ label, value: now, remark });
  };
  add("Cocoons in band", ({ inBandShare: share }) =>
    share === null ? null : `${numberWords(share * 100, 1)} %`,
  );
  add("Warmest cocoons", ({ cocoonSpanC: c }) => c && temperatureWords(c.high, unit));
  add("Coldest cocoons", ({ cocoonSpanC: c }) => c && temperatureWords(c.low, unit));
  add("Above the band", (figures) => degreeHourWords(figures.degreeHoursAbove, unit));
  add("Below the band", (figures) => degreeHourWords(figures.degreeHoursBelow, unit));
  add("Reserve used", ({ reserveDays: days }) =>
    days === null ? null : `about ${numberWords(days, 1)} days`,
  );
  return rows;
}

function eventSections({ before, after }: RevisionPlan, timezone: string): Section[] {
  const [old, now] = [before.filter(askedForLetter), after.filter(askedForLetter)];
  const missing = (from: readonly Told[], others: readonly Told[]) =>
    from.filter(({ id }) => !others.some((other) => other.id === id));
  const gone = missing(old, now).map((told) => eventWords(told, timezone));
  const come = missing(now, old).map((told) => eventWords(told, timezone));
  const open = now.filter(goesOn).map((told) => eventWords(told, timezone));
  if (gone.length + come.length === 0)
    return [telling("Events that asked for a letter", "The same as before.")];
  return [
    listing("Events that were told and were none", gone),
    listing("Events that nobody was told of", come),
    listing("What goes on now", open),
  ].flatMap((section) => (section === null ? [] : [section]));
}

function listing(heading: string, events: readonly string[]): Section | null {
  if (events.length === 0) return null;
  const rest = events.length - MOST_EVENTS;
  const sentences = rest > 0 ? [`${rest} more are not listed.`] : [];
  return { heading, sentences, points: events.slice(0, MOST_EVENTS), figures: [] };
}

function eventWords({ findings }: Told, timezone: string): string {
  const last: Finding = findings.at(-1)!;
  const { name } = adviceFor(last.cause);
  const capital = `${name[0]!.toUpperCase()}${name.slice(1)}`;
  const ended = last.change === "ended" ? "" : ", not over yet";
  return `${capital}, from ${momentWords(last.startedAtMs, timezone)}${ended}.`;
}
