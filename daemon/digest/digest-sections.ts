import { GONE } from "../../rules/gone.js";
import type { Excursion } from "../../shared/excursion.js";
import { type Figure, type Section, telling } from "../letters/body.js";
import { adviceOf } from "../letters/cause-advice.js";
import { saidClause } from "../letters/finding-words.js";
import { placeWords } from "../letters/letter-context.js";
import { pictureOfWeek } from "../letters/letter-picture.js";
import { oneLine } from "../letters/one-line.js";
import {
  degreeHourWords,
  limitWords,
  numberWords,
  spanWords,
  type TemperatureUnit,
  temperatureWords,
} from "../letters/temperature-words.js";
import {
  clockWords,
  dayWords,
  durationWords,
  momentWords,
  stretchWords,
} from "../letters/time-words.js";
import { checkedWords, correctedWords, dueWords, trustSentences } from "../probes/probe-words.js";
import type { ProbeStanding } from "../probes/standing.js";
import type { ChamberWeek, DigestFigures, ProbeFigures } from "./figures.js";
import type { HourFigures } from "./hour-figures.js";
import { shareWords } from "./reason-words.js";

/** Events listed one by one; the rest are counted. */
const MOST_EVENTS = 20;
const MOST_STRETCHES = 10;

function temperatureRows(label: string, hours: HourFigures, unit: TemperatureUnit): Figure[] {
  return [
    {
      label: `${label} in band`,
      value: shareWords(hours.inBandShare),
      remark: `of ${hours.hours} hours seen, by their means`,
    },
    {
      label: `${label} coldest, warmest`,
      value: `${temperatureWords(hours.low, unit)}, ${temperatureWords(hours.high, unit)}`,
      remark: null,
    },
  ];
}

/** The judge's share goes reading by reading, so it stands before the one by hours. */
function cocoonRows({ judged, cocoons, isReckoned }: ChamberWeek, unit: TemperatureUnit): Figure[] {
  const rows = cocoons === null ? [] : temperatureRows("Cocoons", cocoons, unit);
  if (isReckoned)
    rows.splice(1, 1, { ...rows[1]!, remark: "reckoned from the air, no probe lies in a box" });
  if (judged === null) return rows;
  const reckoned = cocoons === null ? ", reckoned from the air" : "";
  if (judged.inBandShare !== null) {
    const remark = `of the time seen${reckoned}`;
    const value = shareWords(judged.inBandShare);
    rows.splice(0, cocoons === null ? 0 : 1, { label: "Cocoons in band", value, remark });
  }
  if (cocoons === null && judged.cocoonSpanC !== null) {
    const { low, high } = judged.cocoonSpanC;
    const value = `${temperatureWords(low, unit)}, ${temperatureWords(high, unit)}`;
    rows.push({ label: "Cocoons coldest, warmest", value, remark: "reckoned from the air" });
  }
  if (judged.reserveDays !== null) {
    const span = judged.reserveDaysSpan;
    const likely = span && `${numberWords(span.low, 1)} to ${numberWords(span.high, 1)}; `;
    rows.push({
      label: "Reserve used",
      value: `about ${numberWords(judged.reserveDays, 1)} days`,
      remark: `${likely ?? ""}days at ${limitWords(4, unit)} that would use as much; reckoned, not measured`,
    });
  }
  return rows;
}

/** One chamber's week in figures. */
export function chamberSection(
  week: ChamberWeek,
  span: Readonly<{ fromMs: number; toMs: number }>,
  timezone: string,
  unit: TemperatureUnit,
): Section {
  const { chamber, cocoons, air, humidity } = week;
  const band = `Band ${spanWords(chamber.bandC, unit)}, humidity ${chamber.humidityBandPct.low} to ${chamber.humidityBandPct.high} %.`;
  const notKnown = cocoons === null && week.judged === null;
  const unknown = "No probe lies in a box there, so the cocoons themselves were not measured.";
  const figures = [
    ...cocoonRows(week, unit),
    ...(air === null ? [] : temperatureRows("Air", air, unit)),
    ...(humidity === null
      ? []
      : [
          {
            label: week.isHumidityAtCocoons ? "Humidity at the cocoons" : "Humidity",
            value: `${numberWords(humidity.low, 0)} to ${numberWords(humidity.high, 0)} %`,
            remark: `${numberWords(humidity.mean, 0)} % on average`,
          },
        ]),
  ];
  const nothing = figures.length === 0 ? ["Nothing was measured there this week."] : [];
  const sentences = [band, ...(notKnown && figures.length > 0 ? [unknown] : []), ...nothing];
  const known = { cocoonsC: cocoons ?? week.judged?.cocoonSpanC ?? null, humidityPct: humidity };
  const picture = figures.length === 0 ? null : pictureOfWeek(chamber, span, known, timezone, unit);
  return { heading: oneLine(chamber.id, 60), sentences, figures, picture };
}

function eventRow(excursion: Excursion, timezone: string, unit: TemperatureUnit): Figure {
  const { startedAtMs, endedAtMs, latest } = excursion;
  const { cost, cocoonSpanC } = latest;
  const isGone = latest.comparedWith === GONE;
  const lasted =
    endedAtMs === null ? "not over yet" : `for ${durationWords(endedAtMs - startedAtMs)}`;
  const remark = [
    lasted,
    isGone && "then no longer watched, for it has gone from the config",
    cocoonSpanC && `cocoons ${spanWords(cocoonSpanC, unit)}`,
    cost.degreeHoursAbove >= 0.05 && `${degreeHourWords(cost.degreeHoursAbove, unit)} above`,
    cost.degreeHoursBelow >= 0.05 && `${degreeHourWords(cost.degreeHoursBelow, unit)} below`,
    (cost.wetHours ?? 0) >= 0.5 && `wet for ${durationWords(cost.wetHours! * 3_600_000)}`,
    (cost.mouldIndex ?? 0) >= 0.1 && `mould index up by ${numberWords(cost.mouldIndex!, 1)}`,
  ].filter(Boolean);
  const day = dayWords(startedAtMs, timezone).split(" ").slice(0, 2).join(" ");
  return {
    label: `${day}, ${clockWords(startedAtMs, timezone)}`,
    value: `${adviceOf(excursion.latest).name}, ${placeWords(excursion)}`,
    remark: remark.join("; "),
  };
}

/** What happened: events that asked for a letter one by one, ordinary ones counted. */
export function eventsSection(
  figures: DigestFigures,
  timezone: string,
  unit: TemperatureUnit,
): Section {
  const all = [...figures.chambers.flatMap((week) => week.excursions), ...figures.elsewhere];
  const events = all
    .filter(({ urgency }) => urgency !== "note")
    .toSorted((a, b) => a.startedAtMs - b.startedAtMs);
  const count = (cause: string): number =>
    all.filter((one) => one.urgency === "note" && one.cause === cause).length;
  const ordinary = `Ordinary openings: ${count("opening")}. Defrosts: ${count("defrost")}.`;
  const rest = events.length - MOST_EVENTS;
  const sentences = [
    ...(events.length === 0 ? ["Nothing that asked for a letter."] : []),
    ordinary,
    ...(rest > 0 ? [`${rest} more events are not listed.`] : []),
  ];
  const rows = events.slice(0, MOST_EVENTS).map((event) => eventRow(event, timezone, unit));
  return { heading: "What happened", sentences, figures: rows };
}

/** Stretches in which nothing was heard; null when there were none. */
export function unseenSection(
  figures: DigestFigures,
  timezone: string,
  unit: TemperatureUnit,
): Section | null {
  const { unseen, watchedFromMs, fromMs } = figures;
  const since =
    watchedFromMs > fromMs
      ? [`The first reading came at ${momentWords(watchedFromMs, timezone)}.`]
      : [];
  if (unseen.length === 0 && since.length === 0) return null;
  const stretches = unseen.slice(0, MOST_STRETCHES).map((stretch) => {
    const words = stretchWords(stretch.fromMs, stretch.toMs, timezone);
    return `Nothing was heard from ${words}, ${durationWords(stretch.toMs - stretch.fromMs)}.`;
  });
  const rest = unseen.length - MOST_STRETCHES;
  const more = rest > 0 ? [`${rest} more such stretches are not listed.`] : [];
  const doubt = unseen.length > 0 ? ["What the cocoons felt then is not known."] : [];
  const bounds = figures.chambers.flatMap((week) => boundSentence(week, figures, unit));
  return telling("What was not seen", ...since, ...stretches, ...more, ...doubt, ...bounds);
}

/** What the cocoons of a chamber can have reached in stretches of the span that nobody saw. */
function boundSentence(
  { chamber }: ChamberWeek,
  { season, fromMs, toMs }: DigestFigures,
  unit: TemperatureUnit,
): string[] {
  const dark = season?.chambers.find(({ chamberId }) => chamberId === chamber.id)?.dark;
  const within = dark?.stretches.filter((one) => one.fromMs < toMs && one.toMs > fromMs) ?? [];
  if (within.length === 0) return [];
  const warmest = temperatureWords(Math.max(...within.map(({ warmestC }) => warmestC)), unit);
  const place = oneLine(chamber.id, 60);
  return [`With the door shut, cocoons at ${place} can have reached ${warmest} at the most.`];
}

function probeRow(
  { probeId, heardShare, lastHeardMs }: ProbeFigures,
  standing: ProbeStanding | undefined,
  timezone: string,
  unit: TemperatureUnit,
): Figure {
  const last =
    lastHeardMs === null ? "never heard" : `last at ${momentWords(lastHeardMs, timezone)}`;
  const value = heardShare === null ? "not known" : shareWords(heardShare);
  const trust =
    standing === undefined
      ? []
      : [
          correctedWords(standing, unit),
          standing.check === null
            ? "never checked"
            : `checked ${checkedWords(standing, timezone)}, due ${dueWords(standing, timezone)}`,
        ];
  return { label: oneLine(probeId, 60), value, remark: [last, ...trust].join("; ") };
}

/** Faults of probes in the span, what was only noted too, since no letter tells of that. */
function faultPoints(
  { chambers, elsewhere }: DigestFigures,
  timezone: string,
  unit: TemperatureUnit,
): string[] {
  const faults = [...chambers.flatMap((week) => week.excursions), ...elsewhere]
    .filter(({ cause }) => /^probe-(wild|stuck|drift)$/.test(cause))
    .toSorted((a, b) => a.startedAtMs - b.startedAtMs);
  const rest = faults.length - MOST_EVENTS;
  return faults
    .slice(0, MOST_EVENTS)
    .map(({ probeId, startedAtMs, endedAtMs, latest }) => {
      const since = endedAtMs === null ? "since" : "from";
      const over = endedAtMs === null ? "" : `, for ${durationWords(endedAtMs - startedAtMs)}`;
      const when = `${since} ${momentWords(startedAtMs, timezone)}${over}`;
      const clause = saidClause(latest, unit);
      const why = clause === "" ? "" : `: ${clause}`;
      return `${oneLine(probeId ?? "", 60)}: ${adviceOf(latest).name} ${when}${why}.`;
    })
    .concat(rest > 0 ? [`${rest} more faults of probes are not listed.`] : []);
}

/** How well each probe was heard, what corrects it, and what speaks against it. */
export function probesSection(
  figures: DigestFigures,
  timezone: string,
  unit: TemperatureUnit,
): Section {
  const { probes, standings, toMs } = figures;
  const sentence =
    "Share of expected readings that came, in the hours in which any probe was heard.";
  const wording = { unit, timezone, nowMs: toMs };
  const doubts = standings.flatMap((standing) =>
    trustSentences(standing, wording).map((doubt) => `${oneLine(standing.probeId, 60)}: ${doubt}`),
  );
  const points = [...faultPoints(figures, timezone, unit), ...doubts];
  return {
    heading: "Probes",
    sentences: [sentence],
    ...(points.length === 0 ? {} : { points }),
    figures: probes.map((probe) => {
      const standing = standings.find(({ probeId }) => probeId === probe.probeId);
      return probeRow(probe, standing, timezone, unit);
    }),
  };
}

/** What became of the week's letters; each is counted once for every keeper. */
export function lettersSection({ mail }: DigestFigures): Section {
  if (mail.letters === 0) return telling("Letters", "None this week.");
  const row = (label: string, value: number): Figure[] =>
    value === 0 ? [] : [{ label, value: String(value), remark: null }];
  return {
    heading: "Letters",
    sentences: [],
    figures: [
      ...row("Composed", mail.letters),
      ...row("Delivered, counting every keeper", mail.sent),
      ...row("Still waiting", mail.waiting),
      ...row("Given up", mail.givenUp),
    ],
  };
}
