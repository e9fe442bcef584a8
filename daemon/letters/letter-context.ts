import type { Site } from "../../shared/site.js";
import type { NewLetter } from "../store/store.js";
import { NO_MAIL_DOMAIN } from "./message-id.js";
import { oneLine } from "./one-line.js";
import type { TemperatureUnit } from "./temperature-words.js";

/** What a letter is composed with, beside the thing it tells of. */
export type LetterContext = Readonly<{
  site: Site;
  temperatureUnit: TemperatureUnit;
  /** Letters of the same excursion that were composed before, oldest first. */
  earlier: readonly NewLetter[];
  /** One line on mail that could not be delivered, or null. */
  trouble: string | null;
  /** Right side of the Message-ID, from `mailDomainOf`. */
  mailDomain?: string;
}>;

/** The domain for this context's Message-IDs. */
export function domainOf(context: LetterContext): string {
  return context.mailDomain ?? NO_MAIL_DOMAIN;
}

/** Who writes and whose clocks are meant. */
export function signatureOf({ site }: LetterContext): string {
  return `Drowse at ${oneLine(site.name)}. Times are those of ${oneLine(site.timezone)}.`;
}

/**
 * Where an excursion is, for a subject and a first line: the chamber, the probe in its chamber
 * where the probe itself is at fault, or the probe alone where it belongs to no chamber.
 */
export function placeWords(
  excursion: Readonly<{ chamberId: string | null; probeId: string | null; cause: string }>,
): string {
  const chamber = excursion.chamberId === null ? null : oneLine(excursion.chamberId, 60);
  const probe = excursion.probeId === null ? null : oneLine(excursion.probeId, 60);
  if (chamber === null) return probe ?? "no chamber";
  return excursion.cause.startsWith("probe-") && probe !== null
    ? `${probe} in ${chamber}`
    : chamber;
}
