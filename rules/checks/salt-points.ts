import type { Salt } from "../../shared/check.js";

/** The air above a saturated salt solution. */
export type SaltPoint = Readonly<{
  humidityPct: number;
  /** To either side, %RH. */
  halfWidthPct: number;
  /** How much the humidity changes for each kelvin, %RH. */
  perKelvinPct: number;
}>;

export const SALT_COLDEST_C = 0;
export const SALT_WARMEST_C = 25;
const STEP_C = 5;

/**
 * %RH and its uncertainty, %RH, at 0, 5, 10, 15, 20 and 25 °C.
 *
 * Source: Greenspan L (1977), Humidity fixed points of binary saturated aqueous solutions,
 * J. Res. Natl. Bur. Stand. 81A:89–96, table 2. LiCl, MgCl2, NaCl and KCl agree with the
 * polynomials of the same paper. From memory: Mg(NO3)2 below 25 °C, the values of K2SO4 and
 * LiCl at 0 °C, and all uncertainties.
 */
const TABLE: Readonly<Record<Salt, readonly (readonly [pct: number, halfWidthPct: number])[]>> = {
  LiCl: [
    [11.23, 0.54],
    [11.26, 0.47],
    [11.29, 0.41],
    [11.3, 0.35],
    [11.31, 0.31],
    [11.3, 0.27],
  ],
  MgCl2: [
    [33.66, 0.33],
    [33.6, 0.28],
    [33.47, 0.24],
    [33.3, 0.21],
    [33.07, 0.18],
    [32.78, 0.16],
  ],
  "Mg(NO3)2": [
    [60.35, 0.55],
    [58.86, 0.43],
    [57.36, 0.33],
    [55.87, 0.27],
    [54.38, 0.23],
    [52.89, 0.22],
  ],
  NaCl: [
    [75.51, 0.34],
    [75.65, 0.27],
    [75.67, 0.22],
    [75.61, 0.18],
    [75.47, 0.14],
    [75.29, 0.12],
  ],
  KCl: [
    [88.61, 0.53],
    [87.67, 0.45],
    [86.77, 0.39],
    [85.92, 0.33],
    [85.11, 0.29],
    [84.34, 0.26],
  ],
  K2SO4: [
    [98.77, 1.1],
    [98.48, 0.91],
    [98.18, 0.76],
    [97.89, 0.63],
    [97.59, 0.53],
    [97.3, 0.45],
  ],
};

/**
 * The humidity above a saturated salt solution, between the table's values in a straight line:
 * within 0.02 %RH of the paper's polynomials.
 *
 * @param temperatureC of the solution, °C, from 0 to 25
 * @throws {RangeError} on a temperature outside its range, NaN included
 */
export function saltPoint(salt: Salt, temperatureC: number): SaltPoint {
  if (!(temperatureC >= SALT_COLDEST_C && temperatureC <= SALT_WARMEST_C))
    throw new RangeError(`temperature ${temperatureC} °C is not from 0 to 25`);
  const rows = TABLE[salt];
  const at = Math.min(Math.floor(temperatureC / STEP_C), rows.length - 2);
  const [lowPct, lowHalf] = rows[at]!;
  const [highPct, highHalf] = rows[at + 1]!;
  const share = temperatureC / STEP_C - at;
  return {
    humidityPct: lowPct + share * (highPct - lowPct),
    halfWidthPct: lowHalf + share * (highHalf - lowHalf),
    perKelvinPct: (highPct - lowPct) / STEP_C,
  };
}
