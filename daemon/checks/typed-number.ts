import { parseDecimal } from "../../sensors/decimal.js";
import type { Quantity } from "../../shared/check.js";
import { toCelsius } from "../../shared/units.js";
import type { TemperatureUnit } from "../letters/temperature-words.js";

/** A number as a keeper typed it, in our unit, with the step in which it is written. */
export type TypedNumber = Readonly<{ value: number; step: number }>;

/** What is asked for: a value, or a difference of values, which has no zero. */
type Kind = "value" | "difference";

/** No number that a keeper types is longer; runs of space would be tried in all ways to part them. */
const LONGEST = 60;
const NUMBER_AND_UNIT = /^(.*?)\s*°?\s*(c|f|k|%|%rh)?$/i;

/**
 * Read a number that may have its unit behind it: "2.3", "36.1 F", "75 %".
 *
 * @param unit of a temperature that names none
 * @returns in °C or K, or %RH; null for anything else
 */
export function readTypedNumber(
  text: string,
  quantity: Quantity,
  kind: Kind,
  unit: TemperatureUnit = "C",
): TypedNumber | null {
  if (text.length > LONGEST) return null;
  const [, digits, said] = NUMBER_AND_UNIT.exec(text.trim()) ?? [];
  const number = parseDecimal((digits ?? "").replace(/^[\u2212]/, "-").replace(",", "."));
  if (number === null) return null;
  const step = stepAsTyped([digits!]);
  const name = said?.toLowerCase() ?? "";
  if (quantity === "humidity")
    return name === "" || name.startsWith("%") ? { value: number, step } : null;
  if (name.startsWith("%") || (name === "k" && kind === "value")) return null;
  if ((name || unit.toLowerCase()) !== "f") return { value: number, step };
  const degreeK = toCelsius(1, "F") - toCelsius(0, "F");
  const value = kind === "value" ? toCelsius(number, "F") : number * degreeK;
  return { value, step: step * degreeK };
}

/** The finest step in which numbers are written: 0.1 for "2.3" and "4". */
export function stepAsTyped(texts: readonly string[]): number {
  const decimals = texts.map((text) => /[.,](\d+)/.exec(text)?.[1]?.length ?? 0);
  return 10 ** -Math.max(0, ...decimals);
}
