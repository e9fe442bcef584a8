import { type Fault, type Measurement, NO_FAULTS } from "./measurement.js";

/**
 * Far beyond what any probe can measure, and still beyond what a broken one says; our choice. What
 * lies within is kept, however impossible: it is evidence of a fault, and for the rules to know.
 */
const MOST = 10_000;
const DAMPEST_PCT = 100;
/** Capacitive sensors overshoot in wet air; up to here that is 100 %. Our choice. */
const OVERSHOOT_PCT = 105;

/**
 * Keep what can be kept of a measurement; what is no measurement at all becomes null and a fault.
 * Humidity from 100 to 105 % is 100 %. Never throws.
 */
export function checkPlausible(measured: Measurement): {
  measurement: Measurement;
  faults: readonly Fault[];
} {
  const { temperatureC, humidityPct, time } = measured;
  const isTemperatureFit = temperatureC === null || Math.abs(temperatureC) <= MOST;
  const isHumidityFit = humidityPct === null || Math.abs(humidityPct) <= MOST;
  const overshoots =
    humidityPct !== null && humidityPct > DAMPEST_PCT && humidityPct <= OVERSHOOT_PCT;
  if (isTemperatureFit && isHumidityFit && !overshoots)
    return { measurement: measured, faults: NO_FAULTS };
  const faults: Fault[] = [];
  if (!isTemperatureFit) {
    const detail = `temperature ${shorten(temperatureC)} °C, expected at most ${MOST} to either side`;
    faults.push({ reason: "out-of-range", detail });
  }
  if (!isHumidityFit) {
    const detail = `humidity ${shorten(humidityPct)} %RH, expected at most ${MOST} to either side`;
    faults.push({ reason: "out-of-range", detail });
  }
  const measurement = {
    temperatureC: isTemperatureFit ? temperatureC : null,
    humidityPct: isHumidityFit ? (overshoots ? DAMPEST_PCT : humidityPct) : null,
    time,
  };
  return { measurement, faults };
}

function shorten(value: number): string {
  return String(Number(value.toPrecision(6)));
}
