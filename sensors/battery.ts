import { parseDecimal } from "./decimal.js";
import { followPointer, parsePointer } from "./json-pointer.js";
import { resolveSenml } from "./senml.js";

/** Per cent of what it held when new, or volts. */
export const BATTERY_UNITS = ["%", "V"] as const;
export type BatteryUnit = (typeof BATTERY_UNITS)[number];

/** Where a probe's messages tell of its battery. */
export type BatterySource = Readonly<{
  /** A JSON Pointer (RFC 6901), or for SenML the full name, base name included. */
  at: string;
  /** Unit in JSON; SenML names its own. */
  unit: BatteryUnit;
  /** Below it the battery is low, in its unit; null for the usual. */
  low: number | null;
}>;

/** What a message says of a battery, and below what it is low. */
export type BatterySaid = Readonly<{ value: number; unit: BatteryUnit; low: number }>;

/**
 * A fifth left, or 2.4 V of what began as 3 V, two dry cells in a row or one of lithium: our
 * choice. In a fridge cells give less than in a room, so that it is not too early.
 */
const LOW: Readonly<Record<BatteryUnit, number>> = { "%": 20, V: 2.4 };
/** What is beyond it says that nothing is known, or is in another unit, millivolts say. */
const MOST: Readonly<Record<BatteryUnit, number>> = { "%": 100, V: 60 };
/** RFC 8428, section 12.1: remaining battery energy level in per cent, and volt. */
const SENML_UNITS: Readonly<Record<string, BatteryUnit>> = { "%EL": "%", V: "V" };

/**
 * Make ready to read what JSON documents of one probe say of its battery. Many probes tell of it
 * only now and then, so what is not there, or can't be, is null and no fault. What is returned
 * never throws.
 */
export function openBatteryReader(
  payload: "json" | "senml",
  source: BatterySource,
): (document: unknown) => BatterySaid | null {
  const { at, unit, low } = source;
  const said = (value: unknown, inUnit: BatteryUnit): BatterySaid | null => {
    const number = typeof value === "string" ? parseDecimal(value) : value;
    if (typeof number !== "number" || !(number >= 0 && number <= MOST[inUnit])) return null;
    return { value: number, unit: inUnit, low: low ?? LOW[inUnit] };
  };
  if (payload === "json") {
    const path = parsePointer(at);
    return (document) => (path === null ? null : said(followPointer(document, path), unit));
  }
  return (document) => {
    const record = resolveSenml(document).records?.findLast(({ name }) => name === at);
    const inUnit = SENML_UNITS[record?.unit ?? ""];
    return record === undefined || inUnit === undefined ? null : said(record.value, inUnit);
  };
}
