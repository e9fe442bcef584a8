/** Melting point of ice and zero of the Celsius scale, K (the 0.01 K between them is ignored). */
export const ZERO_C_IN_K = 273.15;

/** Specific gas constant of dry air, J/(kg·K). ISO 2533:1975, standard atmosphere. */
const DRY_AIR_J_PER_KG_K = 287.053;
/** Specific gas constant of water vapour, J/(kg·K): R / M = 8.314462618 / 0.018015268. */
const VAPOUR_J_PER_KG_K = 461.523;
/** Pressure at sea level, Pa. ISO 2533:1975. */
const SEA_LEVEL_PA = 101_325;
/** Specific heat of dry air at constant pressure near 0 °C, J/(kg·K); from memory. */
const AIR_J_PER_KG_K = 1_006;

/** Heat held by a cubic metre of fridge air, J/(m³·K): ideal gas at 2 °C and sea level. */
export const AIR_J_PER_M3_K =
  (AIR_J_PER_KG_K * SEA_LEVEL_PA) / (DRY_AIR_J_PER_KG_K * (2 + ZERO_C_IN_K));

/** Latent heat of vaporisation at 0 °C, J/kg; from memory (2.501 MJ/kg, meteorological tables). */
export const VAPORISATION_J_PER_KG = 2.501e6;
/** Latent heat of fusion at 0 °C, J/kg; from memory (0.3337 MJ/kg, meteorological tables). */
export const FUSION_J_PER_KG = 3.337e5;
/** Specific heat of liquid water and of ice near 0 °C, J/(kg·K); from memory. */
export const WATER_J_PER_KG_K = 4_200;
export const ICE_J_PER_KG_K = 2_100;

/**
 * Lewis number of moist air to the power 2/3: heat transfer coefficient over (mass transfer
 * coefficient × ρ × c_p). About 0.9 (Chilton and Colburn analogy, from memory).
 */
export const LEWIS_FACTOR = 0.9;

/**
 * Saturation vapour pressure, Pa, over liquid water, also below 0 °C.
 *
 * Magnus form and coefficients of WMO-No. 8, Annex 4.B, good from -45 to 60 °C.
 */
export function saturationOverWaterPa(temperatureC: number): number {
  return 611.2 * Math.exp((17.62 * temperatureC) / (243.12 + temperatureC));
}

/** The same over ice, Pa, from -65 to 0 °C. WMO-No. 8, Annex 4.B. */
export function saturationOverIcePa(temperatureC: number): number {
  return 611.2 * Math.exp((22.46 * temperatureC) / (272.62 + temperatureC));
}

/** Vapour density of a gas at `pressurePa`, kg/m³; ideal gas law. */
export function vapourDensity(pressurePa: number, temperatureC: number): number {
  return pressurePa / (VAPOUR_J_PER_KG_K * (temperatureC + ZERO_C_IN_K));
}

/** Vapour density in balance with a wet or frosted surface, kg/m³. */
export function surfaceDensity(temperatureC: number): number {
  const pressurePa =
    temperatureC < 0 ? saturationOverIcePa(temperatureC) : saturationOverWaterPa(temperatureC);
  return vapourDensity(pressurePa, temperatureC);
}

/** Relative humidity over water, %, of vapour of this density at this temperature; may pass 100. */
export function relativeHumidityPct(densityKgPerM3: number, temperatureC: number): number {
  return (100 * densityKgPerM3) / vapourDensity(saturationOverWaterPa(temperatureC), temperatureC);
}
