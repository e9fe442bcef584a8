// Magnus form over liquid water, −45 °C to 60 °C.
// WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B.
const MAGNUS_HPA = 6.112;
const MAGNUS_A = 17.62;
const MAGNUS_B_C = 243.12;

/**
 * Saturation vapour pressure over liquid water, hPa.
 *
 * @param temperatureC °C, meant for −45 to 60
 *
 * Source: WMO-No. 8, Annex 4.B.
 */
export function saturationPressureHpa(temperatureC: number): number {
  return MAGNUS_HPA * Math.exp((MAGNUS_A * temperatureC) / (MAGNUS_B_C + temperatureC));
}

/**
 * Vapour pressure of air, hPa.
 *
 * @param temperatureC °C, meant for −45 to 60
 * @param humidityPct relative humidity over liquid water, %, 0 to 100, as sensors report it below 0 °C too
 *
 * Source: the definition of relative humidity, WMO-No. 8, Annex 4.A.
 */
export function vapourPressureHpa(temperatureC: number, humidityPct: number): number {
  return (humidityPct / 100) * saturationPressureHpa(temperatureC);
}
