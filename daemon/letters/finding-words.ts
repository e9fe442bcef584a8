import { GONE } from "../../rules/gone.js";
import type { Cause, Finding } from "../../shared/excursion.js";
import type { Site, Span } from "../../shared/site.js";
import type { Figure, Section } from "./body.js";
import { oneLine } from "./one-line.js";
import {
  clauseWords,
  degreeHourWords,
  limitWords,
  numberWords,
  spanWords,
  type TemperatureUnit,
  temperatureWords,
} from "./temperature-words.js";
import {
  clockWords,
  durationWords,
  type HourCycle,
  momentWords,
  stretchWords,
} from "./time-words.js";

import { isOfWater, waterFigures } from "./water-words.js";

/** In the one study that Drowse leans on; see `limitsSentence`. °C. */
const NEVER_SUITABLE_C = 10;

/** Where a temperature stands: "in their band of 1.1 to 3.3 °C"; above or below it. */
export function againstBand(temperatureC: number, band: Span, unit: TemperatureUnit): string {
  const inside = temperatureC >= band.low && temperatureC <= band.high;
  const side = inside ? "in" : temperatureC > band.high ? "above" : "below";
  return `${side} their band of ${spanWords(band, unit)}`;
}

/** The values that matter now: cocoons against their band, air, humidity. */
export function nowSection(finding: Finding, site: Site, unit: TemperatureUnit): Section {
  const { cocoonC, airC, humidityPct, chamberId, atMs } = finding;
  const chamber = site.chambers.find((known) => known.id === chamberId);
  const hasBox = site.probes.some((p) => p.chamberId === chamberId && p.place === "box");
  const figures: Figure[] = [];
  if (cocoonC !== null) {
    const band = chamber && againstBand(cocoonC, chamber.bandC, unit);
    const reckoned = hasBox ? null : "reckoned from the air";
    const remark = [band, reckoned].filter(Boolean).join(", ");
    const value = temperatureWords(cocoonC, unit);
    figures.push({ label: "Cocoons", value, remark: remark === "" ? null : remark });
  }
  if (airC !== null)
    figures.push({ label: "Air", value: temperatureWords(airC, unit), remark: null });
  const water = isOfWater(finding) ? waterFigures(finding, site) : [];
  figures.push(...water);
  if (humidityPct !== null) {
    const label = water.length > 0 ? "Humidity of the air" : "Humidity";
    figures.push({ label, value: `${numberWords(humidityPct, 0)} %`, remark: null });
  }
  const sentences = figures.length === 0 ? ["Nothing is known of them at the moment."] : [];
  const clock = clockWords(atMs, site.timezone);
  // A probe that is silent or not believed may itself be where these values came from.
  const known = isBlinded(finding.cause) && finding.change !== "ended";
  const heading = known ? "The cocoons, as last known" : `The cocoons at ${clock}`;
  return { heading, sentences, figures };
}

/** "It began at 03:15 on Sunday 11 January, 12 minutes before this letter." */
export function sinceSentence(finding: Finding, site: Site): string {
  const ago = durationWords(finding.atMs - finding.startedAtMs);
  return `It began at about ${momentWords(finding.startedAtMs, site.timezone)}, ${ago} before this letter.`;
}

/** "It lasted from 03:15 to 05:40 on Sunday 11 January: 2 hours 25 minutes." */
export function lastedSentence(
  startedAtMs: number,
  endedAtMs: number,
  site: Site,
  hourCycle?: HourCycle,
): string {
  const stretch = stretchWords(startedAtMs, endedAtMs, site.timezone, hourCycle);
  return `It lasted from ${stretch}: ${durationWords(endedAtMs - startedAtMs)}.`;
}

const isBlinded = (cause: Cause): boolean => /^probe-(mute|stuck|wild)$/.test(cause);

/** Whether the clause of a finding tells what a probe said, rather than what it is held against. */
const isSaid = (cause: Cause): boolean => /^probe-(stuck|wild)$/.test(cause);

function clauseOf(finding: Finding, unit: TemperatureUnit): string {
  return clauseWords(oneLine(finding.comparedWith), unit).replace(/[.\s]+$/, "");
}

/** What speaks for a fault of a probe, as a clause; empty where the config has it no more. */
export const saidClause = (finding: Finding, unit: TemperatureUnit): string =>
  finding.comparedWith === GONE ? "" : clauseOf(finding, unit);

/** What a probe said that is not believed. */
export function saidSentences(finding: Finding, unit: TemperatureUnit): string[] {
  const clause = isSaid(finding.cause) ? saidClause(finding, unit) : "";
  return clause === "" ? [] : [`It said ${clause}.`];
}

/** What it was judged against, and where the two limits come from. */
export function comparedSentences(finding: Finding, site: Site, unit: TemperatureUnit): string[] {
  const clause = isSaid(finding.cause) ? "" : clauseOf(finding, unit);
  const compared = clause === "" ? [] : [`Compared with: ${clause}.`];
  const mentions10 = finding.forecast?.reaches.some((r) => r.targetC === NEVER_SUITABLE_C);
  const chamber = site.chambers.find((known) => known.id === finding.chamberId);
  // What is about water, or about a probe, is not held against a band of temperature.
  const band =
    chamber && !isOfWater(finding) && !finding.cause.startsWith("probe-")
      ? [
          `The band, ${spanWords(chamber.bandC, unit)}, is the one set for ${oneLine(chamber.id, 60)}.`,
        ]
      : [];
  return [...compared, ...band, ...(mentions10 ? [limitSentence(unit)] : [])];
}

/**
 * Why 10 °C is spoken of. Bosch and Kemp (2003), Environ. Entomol. 32:711–716: wintering at
 * 10 °C did not suit males of *Osmia lignaria* for any duration studied. Nothing is claimed for
 * other species.
 */
function limitSentence(unit: TemperatureUnit): string {
  const limit = limitWords(NEVER_SUITABLE_C, unit);
  return `${limit} is named because a study of male Osmia lignaria found it unsuitable for wintering of any length tried. Other bees may differ.`;
}

/** What an excursion took, as figures; empty when it took nothing that shows. */
export function costFigures(finding: Finding, unit: TemperatureUnit): Figure[] {
  const { cost, cocoonSpanC } = finding;
  const figures: Figure[] = [];
  const add = (label: string, value: string, remark: string | null = null): void => {
    figures.push({ label, value, remark });
  };
  if (cocoonSpanC !== null) {
    add("Warmest cocoons", temperatureWords(cocoonSpanC.high, unit));
    add("Coldest cocoons", temperatureWords(cocoonSpanC.low, unit));
  }
  const meaning = "degrees outside the band, times hours";
  if (cost.degreeHoursAbove >= 0.05)
    add("Above the band", degreeHourWords(cost.degreeHoursAbove, unit), meaning);
  if (cost.degreeHoursBelow >= 0.05)
    add("Below the band", degreeHourWords(cost.degreeHoursBelow, unit), meaning);
  if (cost.reserveDays >= 0.05) {
    const at4 = `as many days at ${limitWords(4, unit)} would use it; reckoned, not measured`;
    add("Reserve used", `about ${numberWords(cost.reserveDays, 1)} days`, at4);
  }
  if (cost.wetHours !== null && cost.wetHours >= 0.5)
    add("Wet", durationWords(cost.wetHours * 3_600_000));
  if (cost.mouldIndex !== null && cost.mouldIndex >= 0.1)
    add(
      "Mould index rose by",
      numberWords(cost.mouldIndex, 1),
      "on a scale of 0 to 6, by a model made for pine wood",
    );
  return figures;
}
