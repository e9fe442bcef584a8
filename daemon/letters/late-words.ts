import { isBorrowed, profileIn } from "../../rules/species.js";
import type { Finding } from "../../shared/excursion.js";
import type { Site } from "../../shared/site.js";
import { oneLine } from "./one-line.js";
import { numberWords } from "./temperature-words.js";

/** "within a day", "in about 2 days"; from days, above 0. */
function soonWords(days: number): string {
  if (days <= 1.25) return "within about a day";
  return `in about ${numberWords(days, 0)} days`;
}

/**
 * What warmth does to bees that have had their chill: sentences for a letter about warm cocoons,
 * none while they sleep on.
 */
export function lateSentences(finding: Finding, site: Site): string[] {
  const late = finding.beside?.late ?? null;
  if (late === null || finding.change === "ended") return [];
  const days = numberWords(late.chillDays, 0);
  const depth =
    late.sleep === "ready"
      ? `The cocoons have had ${days} days of cold, enough that only cold keeps them asleep.`
      : `The cocoons have had ${days} days of cold, enough that some may wake.`;
  const soon =
    late.soonestDays === null
      ? []
      : [
          `At the warmth they are heading for, the first may emerge ${soonWords(late.soonestDays)}.`,
        ];
  return [depth, ...soon, "Kept cold, they sleep on.", ...sourceOf(finding, site)];
}

/** Whose figures these are, where they were found on other bees. */
function sourceOf(finding: Finding, site: Site): string[] {
  const chamber = site.chambers.find(({ id }) => id === finding.chamberId);
  if (chamber === undefined) return [];
  const profile = profileIn(chamber);
  if (!isBorrowed(profile, profile.chillDaysBest) && !isBorrowed(profile, profile.emergenceDays))
    return [];
  const bee = oneLine(profile.name, 60);
  return [`These figures were found on other mason bees than ${bee}, which may differ.`];
}
