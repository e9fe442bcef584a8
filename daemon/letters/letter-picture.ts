import type { Finding } from "../../shared/excursion.js";
import type { Site, Span } from "../../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { adviceFor } from "./cause-advice.js";
import { oneLine } from "./one-line.js";
import {
  numberWords,
  spanWords,
  type TemperatureUnit,
  temperatureWords,
} from "./temperature-words.js";
import { clockWords, dateWords, stretchWords } from "./time-words.js";

/**
 * A picture that a letter shows, as its row keeps it: what is to be drawn once the letter is sent,
 * from readings that were stored with it or before. Times are Unix ms.
 */
export type LetterPicture = Readonly<{
  chamberId: string;
  fromMs: number;
  toMs: number;
  /** What became known later is not drawn, however late the letter is sent. */
  asOfMs: number;
  /** What it shows, for whoever sees no pictures. */
  alt: string;
}>;

// All our choice: enough before to see what is usual here, enough ahead for what is foretold.
const BEFORE_MS = 3 * HOUR_MS;
const LONGEST_MS = 36 * HOUR_MS;
const LEAST_AHEAD_MS = HOUR_MS;
const MOST_AHEAD_MS = 6 * HOUR_MS;
/** Damp and dry take days to come. */
const CLIMATE_BEFORE_MS = 5 * DAY_MS;

/** The course of air and cocoons around a finding; null where it concerns no chamber. */
export function pictureOfFinding(
  finding: Finding,
  site: Site,
  unit: TemperatureUnit,
): LetterPicture | null {
  const { chamberId, atMs, startedAtMs, cause, change } = finding;
  const chamber = site.chambers.find(({ id }) => id === chamberId);
  if (chamber === undefined) return null;
  const { direction } = adviceFor(cause);
  const isClimate = direction === "damp" || direction === "dry";
  const fromMs = isClimate
    ? Math.min(startedAtMs, atMs) - CLIMATE_BEFORE_MS
    : Math.max(startedAtMs - BEFORE_MS, atMs - LONGEST_MS);
  const toMs = change === "ended" ? atMs : atMs + aheadMs(finding);
  return {
    chamberId: chamber.id,
    fromMs,
    toMs,
    asOfMs: atMs,
    alt: altOf(finding, chamber.bandC, fromMs, site, unit),
  };
}

function aheadMs({ forecast }: Finding): number {
  const waits = (forecast?.reaches ?? []).map(
    ({ soonestMin, latestMin }) => latestMin ?? soonestMin,
  );
  const foretoldMs = Math.max(0, ...waits) * MINUTE_MS;
  return Math.min(MOST_AHEAD_MS, Math.max(LEAST_AHEAD_MS, foretoldMs));
}

function altOf(
  { atMs, chamberId, airC, cocoonC, cocoonSpanC, change }: Finding,
  bandC: Span,
  fromMs: number,
  site: Site,
  unit: TemperatureUnit,
): string {
  const { timezone } = site;
  const known = [
    cocoonC !== null && `the cocoons were at ${temperatureWords(cocoonC, unit)}`,
    airC !== null && `the air at ${temperatureWords(airC, unit)}`,
  ].filter(Boolean);
  const now = known.length === 0 ? "" : ` At ${clockWords(atMs, timezone)} ${known.join(" and ")}.`;
  const reached =
    change === "ended" && cocoonSpanC !== null
      ? ` In between the cocoons went from ${spanWords(cocoonSpanC, unit)}.`
      : "";
  return `Picture: air, cocoons and humidity in ${oneLine(chamberId ?? "", 60)} from ${stretchWords(fromMs, atMs, timezone)}, with the band of ${spanWords(bandC, unit)}.${now}${reached}`;
}

/** The course of a chamber's week, for the digest. */
export function pictureOfWeek(
  chamber: Readonly<{ id: string; bandC: Span }>,
  { fromMs, toMs }: Readonly<{ fromMs: number; toMs: number }>,
  known: Readonly<{ cocoonsC: Span | null; humidityPct: Span | null }>,
  timezone: string,
  unit: TemperatureUnit,
): LetterPicture {
  const { cocoonsC, humidityPct } = known;
  const [from, to] = [fromMs, toMs - 1].map((ms) => dateWords(ms, timezone));
  const felt = cocoonsC === null ? "" : ` The cocoons were from ${spanWords(cocoonsC, unit)}.`;
  const damp =
    humidityPct === null
      ? ""
      : ` Humidity was from ${numberWords(humidityPct.low, 0)} to ${numberWords(humidityPct.high, 0)} %.`;
  const alt = `Picture: the cocoons of ${oneLine(chamber.id, 60)} from ${from} to ${to} along their band of ${spanWords(chamber.bandC, unit)}, with humidity beneath.${felt}${damp}`;
  return { chamberId: chamber.id, fromMs, toMs, asOfMs: toMs, alt };
}
