import { type Fault, type Measurement, NO_FAULTS } from "./measurement.js";

// Wider than any place on Earth, and the same as common sensor chips: our choice. A sensor's own
// fault values inside it, such as 85 °C, are for the rules to know.
const COLDEST_C = -100;
const WARMEST_C = 150;
const DAMPEST_PCT = 100;
/** Capacitive sensors overshoot in wet air; up to here that is 100 %. Our choice. */
const OVERSHOOT_PCT = 105;

/**
 * Keep what is physically possible of a measurement; what is not becomes null and a fault.
 * Humidity from 100 to 105 % is 100 %. Never throws.
 */
export function checkPlausible(measured: Measurement): {
  measurement: Measurement;
  faults: readonly Fault[];
} {
  const { temperatureC, humidityPct, time } = measured;
  const isTemperatureFit =
    temperatureC === null || (temperatureC >= COLDEST_C && temperatureC <= WARMEST_C);
  const isHumidityFit = humidityPct === null || (humidityPct >= 0 && humidityPct <= OVERSHOOT_PCT);
  if (isTemperatureFit && isHumidityFit && (humidityPct === null || humidityPct <= DAMPEST_PCT))
    return { measurement: measured, faults: NO_FAULTS };
  const faults: Fault[] = [];
  if (!isTemperatureFit) {
    const detail = `temperature ${shorten(temperatureC)} °C, expected ${COLDEST_C} to ${WARMEST_C}`;
    faults.push({ reason: "out-of-range", detail });
  }
  if (!isHumidityFit) {
    const detail = `humidity ${shorten(humidityPct)} %RH, expected 0 to ${DAMPEST_PCT}`;
    faults.push({ reason: "out-of-range", detail });
  }
  const measurement = {
    temperatureC: isTemperatureFit ? temperatureC : null,
    humidityPct: isHumidityFit && humidityPct !== null ? Math.min(humidityPct, DAMPEST_PCT) : null,
    time,
  };
  return { measurement, faults };
}

function shorten(value: number): string {
  return String(Number(value.toPrecision(6)));
}
