import { toCelsius } from "../shared/units.js";
import { parseDecimal } from "./decimal.js";
import { type Content, faulty } from "./measurement.js";
import { describeValue } from "./printable.js";
import type { ProbeSource } from "./source.js";

/** Read a payload that is one number and nothing else. Never throws. */
export function readNumberPayload(text: string, source: ProbeSource): Content {
  const value = parseDecimal(text);
  if (value === null) {
    return faulty(
      "not-a-number",
      `payload: found ${describeValue(text)}, expected a decimal number`,
    );
  }
  const isHumidity = source.quantity === "humidity";
  const measurement = {
    temperatureC: isHumidity ? null : toCelsius(value, source.unit),
    humidityPct: isHumidity ? value : null,
    time: null,
  };
  return { measurements: [measurement], faults: [] };
}
