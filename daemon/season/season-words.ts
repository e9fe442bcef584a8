import type { ChamberFigures } from "../../rules/season.js";
import { isBorrowed, isSet, profileIn } from "../../rules/species.js";
import type { WetSpell } from "../../rules/wet-spells.js";
import type { Chamber, Span } from "../../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { shareWords } from "../digest/reason-words.js";
import type { Figure } from "../letters/body.js";
import { oneLine } from "../letters/one-line.js";
import {
  numberWords,
  spanWords,
  type TemperatureUnit,
  temperatureWords,
} from "../letters/temperature-words.js";
import { dayWords, durationWords, momentWords } from "../letters/time-words.js";

/** What the words of a season need beside its figures. */
export type SeasonWording = Readonly<{ chamber: Chamber; unit: TemperatureUnit; timezone: string }>;

/** A chamber's season in rows: what it cost, how far the winter is, its water, what nobody saw. */
export function seasonRows(figures: ChamberFigures, wording: SeasonWording): Figure[] {
  return [
    ...costRows(figures, wording),
    ...winterRows(figures, wording),
    ...waterRows(figures, wording),
    ...darkRows(figures, wording),
  ];
}

/** What a chamber has taught of itself, in rows. */
export function constantRows({ cocoonLag, warming }: ChamberFigures): Figure[] {
  const row = (label: string, constant: ChamberFigures["warming"], how: string): Figure[] => {
    if (constant === null) return [];
    const { ms, spanMs, from } = constant;
    const known = from === "set" ? "as you set it" : from;
    const remark = `${known}, ${durationWords(spanMs.low)} to ${durationWords(spanMs.high)}; ${how}`;
    return [{ label, value: durationWords(ms), remark }];
  };
  return [
    ...row("Lag of the cocoons", cocoonLag, "how far they are behind the air"),
    ...row("Warming of the fridge", warming, "shut, when nothing cools it"),
  ];
}

function costRows(figures: ChamberFigures, { unit }: SeasonWording): Figure[] {
  const { reserveDays, reserveDaysSpan, inBandShare, cocoonSpanC, meanKineticC } = figures;
  const rows: Figure[] = [];
  if (reserveDays !== null) {
    const likely = reserveDaysSpan && numberSpan(reserveDaysSpan);
    rows.push({
      label: "Reserve used",
      value: `about ${numberWords(reserveDays, 1)} days`,
      remark: likely,
    });
  }
  if (inBandShare !== null) {
    const remark = cocoonSpanC && `cocoons ${spanWords(cocoonSpanC, unit)}`;
    rows.push({ label: "In band", value: `${shareWords(inBandShare)} of the time seen`, remark });
  }
  if (meanKineticC !== null) {
    const remark = "a mean in which warm hours weigh more";
    rows.push({
      label: "Mean kinetic temperature",
      value: temperatureWords(meanKineticC, unit),
      remark,
    });
  }
  return rows;
}

const numberSpan = ({ low, high }: Span): string =>
  `${numberWords(low, 1)} to ${numberWords(high, 1)}`;

function winterRows(
  { chillDays, wintering }: ChamberFigures,
  { chamber, unit }: SeasonWording,
): Figure[] {
  const rows: Figure[] = [];
  const profile = profileIn(chamber);
  if (chillDays !== null) {
    const { low, high } = profile.chillDaysBest.value;
    const isOthers = isBorrowed(profile, profile.chillDaysBest);
    const whose = isSet(profile.chillDaysBest)
      ? ", as set for its species"
      : isOthers
        ? ", found on other mason bees"
        : "";
    const remark = `${low} to ${high} are best${whose}`;
    rows.push({ label: "Days of cold", value: numberWords(chillDays, 0), remark });
  }
  if (wintering !== null && wintering.matrix !== null) {
    const { verdict, speaks, steadyC, matrix, reserve } = wintering;
    const ofMatrix = `${MATRIX_WORDS[matrix]} a study of male Osmia lignaria, as ${temperatureWords(steadyC, unit)} throughout`;
    const ofReserve = RESERVE_WORDS[reserve];
    const remark =
      speaks === "both" ? `${ofMatrix}; ${ofReserve}` : speaks === "matrix" ? ofMatrix : ofReserve;
    rows.push({ label: "Wintering so far", value: verdict, remark });
  }
  return rows;
}

const MATRIX_WORDS = {
  suitable: "suitable by",
  doubtful: "between what did and what did not do in",
  untried: "longer than was tried in",
  unsuitable: "unsuitable by",
} as const;

const RESERVE_WORDS = {
  ample: "reserve used no more than in a usual winter",
  thin: "more reserve used than in a usual winter",
  spent: "more reserve used than was ever seen to do",
} as const;

function waterRows(figures: ChamberFigures, { timezone }: SeasonWording): Figure[] {
  const { humidityFrom, cocoonHumidityPct, cocoonHumiditySpanPct, humidityInBandShare } = figures;
  const { wetHours, mouldIndex, mouldLooked } = figures;
  const rows: Figure[] = [];
  if (humidityFrom !== null) {
    const known = humidityFrom === "box" ? "measured in a box" : "reckoned from the air";
    const span = cocoonHumiditySpanPct;
    const remark = [
      known,
      span && `${numberWords(span.low, 0)} to ${numberWords(span.high, 0)} % so far`,
      humidityInBandShare !== null && `${shareWords(humidityInBandShare)} of the time in band`,
    ];
    const value =
      cocoonHumidityPct === null ? "not known now" : `${numberWords(cocoonHumidityPct, 0)} %`;
    rows.push({
      label: "Humidity at the cocoons",
      value,
      remark: remark.filter(Boolean).join("; "),
    });
  }
  if (wetHours !== null && wetHours >= 0.5)
    rows.push({ label: "Wet", value: durationWords(wetHours * HOUR_MS), remark: null });
  rows.push(...lastWetRows(figures.wetSpells, timezone));
  if (mouldIndex !== null) {
    const saw =
      mouldLooked &&
      `you saw ${mouldLooked.seen ? "some" : "none"} on ${dayWords(mouldLooked.atMs, timezone)}`;
    const remark = ["by a model made for pine wood", saw].filter(Boolean).join("; ");
    rows.push({ label: "Mould index", value: `${numberWords(mouldIndex, 1)} of 6`, remark });
  }
  return [...rows, ...dryRows(figures, timezone)];
}

const AFTER_WORDS = {
  opening: "after an opening",
  defrost: "after a defrost",
  "door-ajar": "after a door left open",
} as const;

/** When water last lay on the cocoons, and on the wall, for how long, and why. */
function lastWetRows(spells: readonly WetSpell[], timezone: string): Figure[] {
  return (["cocoons", "wall"] as const).flatMap((surface): Figure[] => {
    const last = spells.findLast((one) => one.surface === surface && one.wetMs >= MINUTE_MS);
    if (last === undefined) return [];
    const { fromMs, wetMs, mostGPerM2, after } = last;
    const remark = [
      `from ${momentWords(fromMs, timezone)}`,
      after && AFTER_WORDS[after],
      // 1 g/m² of water is a thousandth of a millimetre thick.
      mostGPerM2 > 0 && `at most ${numberWords(mostGPerM2 / 1_000, 3)} mm of water, reckoned`,
    ];
    const label = surface === "wall" ? "Wall last wet" : "Cocoons last wet";
    return [{ label, value: durationWords(wetMs), remark: remark.filter(Boolean).join("; ") }];
  });
}

function dryRows(
  { dryOn, humidityFrom, lastDampedMs }: ChamberFigures,
  timezone: string,
): Figure[] {
  const label = "Falls below its humidity band";
  const since = lastDampedMs === null ? null : `damped on ${dayWords(lastDampedMs, timezone)}`;
  if (dryOn === null)
    return humidityFrom === null ? [] : [{ label, value: "no sign of it", remark: since }];
  const { atMs, spanMs, basis } = dryOn;
  const span = `${dayWords(spanMs.low, timezone)} to ${dayWords(spanMs.high, timezone)}`;
  const how =
    basis === "trend" ? "by its trend" : "by the calendar, until a week has shown a trend";
  const remark = [how, span, since].filter(Boolean).join("; ");
  return [{ label, value: `about ${dayWords(atMs, timezone)}`, remark }];
}

function darkRows({ dark }: ChamberFigures, { unit }: SeasonWording): Figure[] {
  if (dark === null || dark.hours < 1) return [];
  const most =
    dark.cocoonSpanC && `cocoons ${temperatureWords(dark.cocoonSpanC.high, unit)} at the most`;
  return [{ label: "Not seen", value: durationWords(dark.hours * 3_600_000), remark: most }];
}

/** The heading of a chamber's season. */
export const seasonHeading = (chamberId: string): string =>
  `The winter so far: ${oneLine(chamberId, 60)}`;
