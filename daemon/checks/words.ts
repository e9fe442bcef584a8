import type { ToleranceVerdict } from "../../rules/checks/tolerance.js";
import {
  type Correction,
  correctionAt,
  type Quantity,
  type Reference,
} from "../../shared/check.js";
import { formatTemperature, formatTemperatureDifference } from "../../shared/units.js";
import { oneLine } from "../letters/one-line.js";
import { numberWords, type TemperatureUnit } from "../letters/temperature-words.js";

/** How what was measured is said: of which quantity, and in whose unit. */
export type Saying = Readonly<{ quantity: Quantity; unit: TemperatureUnit }>;

const DIGITS = 2;

/** A value: "2.31 °C", "75.3 %RH". */
export function valueWords(value: number, { quantity, unit }: Saying): string {
  return quantity === "temperature"
    ? formatTemperature(value, unit, DIGITS)
    : `${numberWords(value, 1)} %RH`;
}

/** A difference of values, or an uncertainty: "0.31 °C", "1.2 %RH". */
export function differenceWords(difference: number, { quantity, unit }: Saying): string {
  return quantity === "temperature"
    ? formatTemperatureDifference(difference, unit, DIGITS)
    : `${numberWords(difference, 1)} %RH`;
}

/** How far off something is, with its sign in words: "0.31 °C too high", "right". */
export function deviationWords(deviation: number, saying: Saying): string {
  const size = differenceWords(Math.abs(deviation), saying);
  if (size === differenceWords(0, saying)) return "right to the last digit shown";
  return `${size} too ${deviation > 0 ? "high" : "low"}`;
}

/** What is done to a value: "0.31 °C taken off", and at both ends where that differs. */
export function correctionWords(correction: Correction, saying: Saying): string {
  const { low, high, slope } = correction;
  const at = (value: number) => deedWords(correctionAt(correction, value), saying);
  if (slope === 0 || low === high) return at(low);
  return `${at(low)} at ${valueWords(low, saying)}, ${at(high)} at ${valueWords(high, saying)}`;
}

function deedWords(added: number, saying: Saying): string {
  const size = differenceWords(Math.abs(added), saying);
  if (size === differenceWords(0, saying)) return "nothing added";
  return `${size} ${added > 0 ? "added" : "taken off"}`;
}

/** What a probe was held against. */
export function referenceWords(reference: Reference, unit: TemperatureUnit): string {
  if (reference.kind === "ice") return "melting ice";
  if (reference.kind === "instrument") return oneLine(reference.name, 120);
  const warmth = formatTemperature(reference.temperatureC, unit);
  return `air over a saturated solution of ${reference.salt} at ${warmth}`;
}

const VERDICTS: Readonly<Record<ToleranceVerdict, string>> = {
  within: "within tolerance",
  outside: "out of tolerance",
  undecided: "too near the tolerance to say",
};

/** A verdict in words. */
export const verdictWords = (verdict: ToleranceVerdict): string => VERDICTS[verdict];
