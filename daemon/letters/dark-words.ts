import type { Finding } from "../../shared/excursion.js";
import type { Site } from "../../shared/site.js";
import { type Section, telling } from "./body.js";
import { spanWords, type TemperatureUnit, temperatureWords } from "./temperature-words.js";
import { durationWords, stretchWords } from "./time-words.js";

/** So much colder than if nothing had cooled, K: then something did. Our choice. */
const COOLED_K = 1;

/** What a stretch that nobody saw may have held; null where a finding tells of none. */
export function darkSection(finding: Finding, site: Site, unit: TemperatureUnit): Section | null {
  const dark = finding.beside?.dark ?? null;
  if (dark === null) return null;
  const { fromMs, toMs, warmestC, uncooledC } = dark;
  const stretch = stretchWords(fromMs, toMs, site.timezone);
  const { cocoonC } = finding;
  const sentences = [
    `Nobody saw the cocoons from ${stretch}, ${durationWords(toMs - fromMs)}.`,
    `With the door shut they can have been as warm as ${temperatureWords(warmestC, unit)} at the most.`,
  ];
  if (finding.atMs === toMs && cocoonC !== null && cocoonC < uncooledC.low - COOLED_K)
    sentences.push(
      `Had nothing cooled them all that time they would be at ${spanWords(uncooledC, unit)} now, so the fridge ran for at least a part of it.`,
    );
  return telling("What was not seen", ...sentences);
}

/** Where such a bound comes from, in a sentence. */
export const DARK_MEANING =
  "The bound is reckoned from how fast this fridge and its boxes warm when nothing cools them, as learned here or, before that, as assumed; it is the most that can have been, not what was.";
