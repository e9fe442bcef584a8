/** Why a value cannot have been measured; `null` everywhere means that it can. */
export type FaultValue = "power-on" | "bus-lost" | "too-warm" | "too-cold" | "too-dry" | "too-damp";

/**
 * What the scratchpad of a DS18B20 holds before its first conversion, °C.
 * Source: Maxim, DS18B20 datasheet, "Operation – Measuring Temperature".
 */
const POWER_ON_C = 85;
/** What common drivers of that chip return when nothing answers on the bus, °C; common practice. */
const BUS_LOST_C = -127;
/** Half the last place of a value that came by way of another unit. */
const SAME_C = 0.005;
// Beyond what a fridge, a room or a winter has ever been, with room to spare: our choice.
const WARMEST_C = 70;
const COLDEST_C = -70;
/** Above it a capacitive sensor has no overshoot left to blame; our choice. */
const DAMPEST_PCT = 105;

/** Why this cannot be the temperature at any probe of ours. Total; NaN is too cold. */
export function temperatureFault(temperatureC: number): FaultValue | null {
  if (temperatureC >= COLDEST_C && temperatureC <= WARMEST_C) return null;
  if (Math.abs(temperatureC - POWER_ON_C) < SAME_C) return "power-on";
  if (Math.abs(temperatureC - BUS_LOST_C) < SAME_C) return "bus-lost";
  return temperatureC > WARMEST_C ? "too-warm" : "too-cold";
}

/** Why this cannot be the humidity at any probe of ours. Air without any water is none. Total. */
export function humidityFault(humidityPct: number): FaultValue | null {
  if (humidityPct > 0 && humidityPct <= DAMPEST_PCT) return null;
  return humidityPct > DAMPEST_PCT ? "too-damp" : "too-dry";
}
