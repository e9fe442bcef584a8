import type { Span } from "../../shared/site.js";

export type TemperatureUnit = "C" | "F";

const MINUS = "\u2212";

/** A number with a true minus sign and `digits` decimals; never "−0.0". */
export function numberWords(value: number, digits: number): string {
  const shown = value.toFixed(digits);
  return Number(shown) === 0 ? Math.abs(0).toFixed(digits) : shown.replace("-", MINUS);
}

function inUnit(temperatureC: number, unit: TemperatureUnit): string {
  return numberWords(unit === "F" ? temperatureC * 1.8 + 32 : temperatureC, 1);
}

/** A temperature in the keeper's unit to one decimal: "3.3 °C", "−0.4 °C", "37.9 °F". */
export function temperatureWords(temperatureC: number, unit: TemperatureUnit): string {
  return `${inUnit(temperatureC, unit)} °${unit}`;
}

/** A limit that somebody set: as above, but whole degrees without a decimal, "10 °C". */
export function limitWords(temperatureC: number, unit: TemperatureUnit): string {
  return `${withoutZero(inUnit(temperatureC, unit))} °${unit}`;
}

const withoutZero = (shown: string): string => shown.replace(/\.0$/, "");

/** A span in the keeper's unit: "1.1 to 3.3 °C"; one figure where both ends read the same. */
export function spanWords(span: Span, unit: TemperatureUnit): string {
  const [low, high] = [span.low, span.high].map((endC) => withoutZero(inUnit(endC, unit)));
  return low === high ? `${low} °${unit}` : `${low} to ${high} °${unit}`;
}

/** Degree-hours, given in °C·h, in the keeper's unit: "3.4 °C·h". */
export function degreeHourWords(degreeHoursC: number, unit: TemperatureUnit): string {
  return `${numberWords(unit === "F" ? degreeHoursC * 1.8 : degreeHoursC, 1)} °${unit}·h`;
}

/**
 * A clause that the judge wrote in °C and K, in the keeper's unit: "3.3 °C" is a temperature and
 * may become "37.9 °F"; "2.0 K" is a difference and becomes "2.0 °C" or "3.6 °F". A span written
 * "1.1 to 3.3 °C" has both its ends turned.
 */
export function clauseWords(clause: string, unit: TemperatureUnit): string {
  const number = "([-\u2212]?\\d+(?:\\.\\d+)?)";
  if (unit === "C") return clause.replace(new RegExp(`${number} K\\b`, "gu"), "$1 °C");
  const value = (digits: string): number => Number(digits.replace(MINUS, "-"));
  const turned = (digits: string): string => withoutZero(inUnit(value(digits), "F"));
  return clause
    .replace(
      new RegExp(`${number} (to|and|or) ${number} °C(?!·)`, "gu"),
      (_, low, word, high) => `${turned(low)} ${word} ${turned(high)} °F`,
    )
    .replace(new RegExp(`${number} °C(?!·)`, "gu"), (_, digits) => `${turned(digits)} °F`)
    .replace(
      new RegExp(`${number} K\\b`, "gu"),
      (_, digits) => `${numberWords(value(digits) * 1.8, 1)} °F`,
    );
}
