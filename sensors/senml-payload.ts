import { SECOND_MS } from "../shared/time.js";
import { toCelsius } from "../shared/units.js";
import { type Content, type Fault, faulty, type Measurement } from "./measurement.js";
import { describeValue, printable } from "./printable.js";
import { resolveSenml, type SenmlRecord } from "./senml.js";
import type { ProbeSource } from "./source.js";

type Quantity = "temperature" | "humidity";

// RFC 8428, section 12.1. It registers no degree Fahrenheit.
const UNITS: Readonly<Record<Quantity, readonly string[]>> = {
  temperature: ["Cel", "K"],
  humidity: ["%RH"],
};

/** Names listed in a fault; the rest are only counted. */
const NAMES_SHOWN = 3;

/**
 * Read a SenML pack: one measurement for each time in it, with temperature and humidity of the
 * same time together. Never throws.
 */
export function readSenmlPayload(document: unknown, source: ProbeSource): Content {
  const pack = resolveSenml(document);
  if (pack.fault !== null) return faulty("not-senml", printable(pack.fault, 160));
  const faults: Fault[] = [];
  const moments = new Map<string, Measurement>();
  for (const quantity of ["temperature", "humidity"] as const) {
    for (const record of pickRecords(pack.records, quantity, source[quantity], faults)) {
      addRecord(moments, quantity, record, faults);
    }
  }
  if (moments.size === 0 && faults.length === 0) {
    faults.push({ reason: "pointer-missing", detail: "no record in Cel, K or %RH" });
  }
  return { measurements: [...moments.values()], faults };
}

/** The records of one quantity. By name if the probe has one, else by unit if that is one name. */
function pickRecords(
  records: readonly SenmlRecord[],
  quantity: Quantity,
  name: string | null,
  faults: Fault[],
): readonly SenmlRecord[] {
  if (name !== null) {
    const named = records.filter((record) => record.name === name);
    if (named.length === 0) {
      const found = listNames(records);
      const detail = `${quantity}: no record named ${describeValue(name)}, found ${found}`;
      faults.push({ reason: "pointer-missing", detail });
    }
    return named;
  }
  const fitting = records.filter(
    ({ unit, value }) => unit !== null && UNITS[quantity].includes(unit) && value !== null,
  );
  if (new Set(fitting.map((record) => record.name)).size > 1) {
    // Which of two sensors a probe means is not ours to guess, least of all message by message.
    const detail = `${quantity}: several records, set its name to one of ${listNames(fitting)}`;
    faults.push({ reason: "ambiguous", detail });
    return [];
  }
  return fitting;
}

function listNames(records: readonly SenmlRecord[]): string {
  const names = [...new Set(records.map((record) => record.name))];
  const shown = names.slice(0, NAMES_SHOWN).map((name) => printable(name, 60));
  const more = names.length > NAMES_SHOWN ? ` and ${names.length - NAMES_SHOWN} more` : "";
  return `${shown.join(", ")}${more}` || "none";
}

function addRecord(
  moments: Map<string, Measurement>,
  quantity: Quantity,
  record: SenmlRecord,
  faults: Fault[],
): void {
  const place = `${quantity} in ${printable(record.name, 60)}`;
  if (typeof record.value !== "number" || !Number.isFinite(record.value)) {
    const detail = `${place}: found ${describeValue(record.value)}, expected a number`;
    faults.push({ reason: "not-a-number", detail });
    return;
  }
  if (record.unit === null || !UNITS[quantity].includes(record.unit)) {
    const found = record.unit === null ? "no unit" : `unit ${describeValue(record.unit)}`;
    const detail = `${place}: found ${found}, expected ${UNITS[quantity].join(" or ")}`;
    faults.push({ reason: "unit-unknown", detail });
    return;
  }
  const timeMs = Math.round(record.timeS * SECOND_MS);
  const key = `${record.relative}:${timeMs}`;
  const before = moments.get(key) ?? {
    temperatureC: null,
    humidityPct: null,
    time: record.relative
      ? ({ kind: "relative", offsetMs: timeMs } as const)
      : ({ kind: "absolute", atMs: timeMs } as const),
  };
  const { temperatureC, humidityPct } = before;
  const value = record.unit === "K" ? toCelsius(record.value, "K") : record.value;
  // Of two records of one name and time the first counts, as with a repeated message.
  const merged =
    quantity === "temperature"
      ? { ...before, temperatureC: temperatureC ?? value }
      : { ...before, humidityPct: humidityPct ?? value };
  moments.set(key, merged);
}
