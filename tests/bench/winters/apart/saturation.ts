/** The table runs from here in steps of a tenth of a kelvin, up to 80 °C; our choice. */
const FROM_C = -60;
const STEPS = 1_400;
const STEPS_A_KELVIN = 10;

/** Vapour density over pressure and temperature, g·K/J: molar mass of water over R; from memory. */
const G_K_PER_HPA_M3 = 216.7;
const ZERO_C_IN_K = 273.15;

type Table = Readonly<Float64Array>;
const OVER_WATER = tabulate(overWaterHpa);
const OVER_ICE_OR_WATER = tabulate((c) => (c < 0 ? overIceHpa(c) : overWaterHpa(c)));

/** Vapour density of saturated air over liquid water, also below 0 °C, g/m³; −60 to 80 °C. */
export function saturatedOverWaterGPerM3(temperatureC: number): number {
  return lookUp(OVER_WATER, temperatureC);
}

/** Vapour density in balance with a wet or, below 0 °C, an icy surface, g/m³; −60 to 80 °C. */
export function saturatedAtSurfaceGPerM3(temperatureC: number): number {
  return lookUp(OVER_ICE_OR_WATER, temperatureC);
}

/** Vapour density of air of this humidity, % over liquid water, g/m³. */
export function vapourGPerM3(temperatureC: number, humidityPct: number): number {
  return (saturatedOverWaterGPerM3(temperatureC) * humidityPct) / 100;
}

/** Magnus form with the coefficients of WMO-No. 8, Annex 4.B, good from −45 to 60 °C. */
function overWaterHpa(temperatureC: number): number {
  return 6.112 * Math.exp((17.62 * temperatureC) / (243.12 + temperatureC));
}

/** The same over ice, from −65 to 0 °C. WMO-No. 8, Annex 4.B. */
function overIceHpa(temperatureC: number): number {
  return 6.112 * Math.exp((22.46 * temperatureC) / (272.62 + temperatureC));
}

/** Densities by the ideal gas law. One more than `STEPS` on top, for what lies between. */
function tabulate(pressureHpa: (temperatureC: number) => number): Table {
  return Float64Array.from({ length: STEPS + 2 }, (_, i) => {
    const temperatureC = FROM_C + i / STEPS_A_KELVIN;
    return (G_K_PER_HPA_M3 * pressureHpa(temperatureC)) / (temperatureC + ZERO_C_IN_K);
  });
}

/** Between two entries along a straight line; beyond the table along that of its last two. */
function lookUp(table: Table, temperatureC: number): number {
  const at = (temperatureC - FROM_C) * STEPS_A_KELVIN;
  const i = at < 0 ? 0 : at > STEPS ? STEPS : Math.trunc(at);
  const low = table[i] ?? Number.NaN;
  const high = table[i + 1] ?? Number.NaN;
  return low + (high - low) * (at - i);
}
