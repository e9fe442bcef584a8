// Magnus form over liquid water, −45 °C to 60 °C, and over ice, −65 °C to 0 °C.
// WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B.
const MAGNUS_HPA = 6.112;
const WATER_A = 17.62;
const WATER_B_C = 243.12;
const ICE_A = 22.46;
const ICE_B_C = 272.62;

const ZERO_K = 273.15;
// R/M of water: 8.314462618 J/(mol·K) over 18.015268 g/mol (CODATA 2018 and IAPWS R6-95).
const VAPOUR_J_PER_KG_K = 461.5231;
const PA_PER_HPA = 100;
const GRAM_PER_KG = 1_000;

/**
 * Saturation vapour pressure over liquid water, hPa. Total.
 *
 * @param temperatureC °C, meant for −45 to 60
 *
 * Source: WMO-No. 8, Annex 4.B.
 */
export function saturationPressureHpa(temperatureC: number): number {
  return MAGNUS_HPA * Math.exp((WATER_A * temperatureC) / (WATER_B_C + temperatureC));
}

/**
 * Saturation vapour pressure over ice, hPa. Total.
 *
 * @param temperatureC °C, meant for −65 to 0
 *
 * Source: WMO-No. 8, Annex 4.B.
 */
export function saturationPressureOverIceHpa(temperatureC: number): number {
  return MAGNUS_HPA * Math.exp((ICE_A * temperatureC) / (ICE_B_C + temperatureC));
}

/**
 * Vapour pressure of air, hPa. Total.
 *
 * @param temperatureC °C, meant for −45 to 60
 * @param humidityPct relative humidity over liquid water, %, 0 to 100, as sensors report it below 0 °C too
 *
 * Source: the definition of relative humidity, WMO-No. 8, Annex 4.A.
 */
export function vapourPressureHpa(temperatureC: number, humidityPct: number): number {
  return (humidityPct / 100) * saturationPressureHpa(temperatureC);
}

/**
 * Relative humidity over liquid water, %, that air of this vapour pressure has where it is cooled
 * or warmed to this temperature; above 100 it condenses. Total, and never clamped.
 *
 * At the cocoons it takes the vapour pressure around them and their own temperature. Where only
 * the chamber's air is measured, that is taken to be the same in a vented box; vents need minutes,
 * so that a short opening reads damper than it is.
 *
 * @param vapourHpa vapour pressure, hPa, 0 or more
 * @param temperatureC °C, meant for −45 to 60
 */
export function relativeHumidityPct(vapourHpa: number, temperatureC: number): number {
  return (100 * vapourHpa) / saturationPressureHpa(temperatureC);
}

/**
 * Vapour pressure deficit, hPa: how much more vapour a damp surface of this temperature would give
 * off than the air holds; 0 where the air holds as much or more. Drying goes with it, not with
 * humidity alone. Total.
 *
 * @param vapourHpa vapour pressure of the air, hPa
 * @param surfaceC temperature of what dries, °C, meant for −45 to 60
 */
export function vapourDeficitHpa(vapourHpa: number, surfaceC: number): number {
  return Math.max(0, saturationPressureHpa(surfaceC) - vapourHpa);
}

/**
 * Absolute humidity, g/m³. Total.
 *
 * @param vapourHpa vapour pressure, hPa
 * @param temperatureC of the air, °C, above −273.15
 *
 * Source: ideal gas law.
 */
export function absoluteHumidityGPerM3(vapourHpa: number, temperatureC: number): number {
  const kelvin = temperatureC + ZERO_K;
  return (GRAM_PER_KG * PA_PER_HPA * vapourHpa) / (VAPOUR_J_PER_KG_K * kelvin);
}

/**
 * Temperature at which air of this warmth and humidity begins to condense.
 *
 * @param temperatureC air temperature, °C, from −45 to 60
 * @param humidityPct relative humidity over water, %, above 0 and up to 100
 * @returns dew point over liquid water, °C, never above `temperatureC`
 * @throws {RangeError} on an input outside its range, NaN included
 *
 * Source: the equation over water, solved for temperature.
 */
export function dewPointC(temperatureC: number, humidityPct: number): number {
  mustBeAir(temperatureC, humidityPct);
  const ln = Math.log(vapourPressureHpa(temperatureC, humidityPct) / MAGNUS_HPA);
  return Math.min(temperatureC, (WATER_B_C * ln) / (WATER_A - ln));
}

/**
 * Temperature at which air of this warmth and humidity begins to leave frost.
 *
 * @param temperatureC air temperature, °C, from −45 to 60
 * @param humidityPct relative humidity over water, %, above 0 and up to 100
 * @returns frost point, °C, or null where the air would leave dew above 0 °C before any frost
 * @throws {RangeError} on an input outside its range, NaN included
 *
 * Source: the equation over ice, solved for temperature.
 */
export function frostPointC(temperatureC: number, humidityPct: number): number | null {
  mustBeAir(temperatureC, humidityPct);
  const ln = Math.log(vapourPressureHpa(temperatureC, humidityPct) / MAGNUS_HPA);
  return ln > 0 ? null : (ICE_B_C * ln) / (ICE_A - ln);
}

function mustBeAir(temperatureC: number, humidityPct: number): void {
  // Written as "not inside" so that NaN fails too.
  if (!(temperatureC >= -45 && temperatureC <= 60))
    throw new RangeError(`temperature ${temperatureC} °C is not from -45 to 60`);
  if (!(humidityPct > 0 && humidityPct <= 100))
    throw new RangeError(`humidity ${humidityPct} % is not above 0 and up to 100`);
}
