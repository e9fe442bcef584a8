import type { Span } from "./site.js";

/** Units in which a sensor may speak. Inside Drowse every temperature is °C. */
export const TEMPERATURE_UNITS = ["C", "F", "K"] as const;
export type TemperatureUnit = (typeof TEMPERATURE_UNITS)[number];

/** Units in which a keeper may read. */
export type LetterUnit = "C" | "F";

/** 0 °C in kelvin, exact. SI Brochure, 9th edition (2019), section 2.3.1. */
const ICE_POINT_K = 273.15;
// °F = 32 + 1.8 °C, exact. NIST SP 811 (2008), appendix B.8.
const FAHRENHEIT_ZERO_C_F = 32;
const FAHRENHEIT_PER_KELVIN = 1.8;

/**
 * A temperature in °C.
 *
 * Exact by definition: t/°C = T/K − 273.15 (SI Brochure, 9th edition, section 2.3.1) and
 * t/°C = (t/°F − 32)/1.8 (NIST SP 811, appendix B.8); only floating point rounds. Not judged:
 * a value below absolute zero, an infinity or NaN goes through.
 */
export function toCelsius(value: number, unit: TemperatureUnit): number {
  if (unit === "K") return value - ICE_POINT_K;
  if (unit === "F") return (value - FAHRENHEIT_ZERO_C_F) / FAHRENHEIT_PER_KELVIN;
  return value;
}

/** The inverse of `toCelsius`, by the same definitions. */
export function fromCelsius(temperatureC: number, unit: TemperatureUnit): number {
  if (unit === "K") return temperatureC + ICE_POINT_K;
  if (unit === "F") return temperatureC * FAHRENHEIT_PER_KELVIN + FAHRENHEIT_ZERO_C_F;
  return temperatureC;
}

/**
 * A temperature as a letter says it: "3.2 °C", "−0.5 °C", "37.8 °F". The minus is U+2212, and
 * what rounds to nothing has none.
 *
 * @param digits decimals, 0 to 3; 1 unless told, as household sensors resolve 0.1 K
 */
export function formatTemperature(temperatureC: number, unit: LetterUnit, digits = 1): string {
  return `${formatNumber(fromCelsius(temperatureC, unit), digits)} °${unit}`;
}

/**
 * A difference of temperatures as a letter says it: 1 K is "1.0 °C", or "1.8 °F". Only the size
 * of a degree counts here, not the zero of its scale (SI Brochure, section 2.3.1: a difference
 * has the same value in K and °C).
 *
 * @param differenceK K, the same as °C for a difference; a minus is shown, a plus is not
 */
export function formatTemperatureDifference(
  differenceK: number,
  unit: LetterUnit,
  digits = 1,
): string {
  const value = unit === "F" ? differenceK * FAHRENHEIT_PER_KELVIN : differenceK;
  return `${formatNumber(value, digits)} °${unit}`;
}

/** A band as a letter says it: "1.1 to 3.3 °C". Words, since a dash beside a minus misleads. */
export function formatBand(bandC: Span, unit: LetterUnit, digits = 1): string {
  const low = formatNumber(fromCelsius(bandC.low, unit), digits);
  return `${low} to ${formatTemperature(bandC.high, unit, digits)}`;
}

function formatNumber(value: number, digits: number): string {
  const text = value.toFixed(digits);
  // "-0.0" comes of rounding and would read as frost.
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}
