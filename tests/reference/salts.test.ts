import { describe, expect, test } from "vitest";
import { saltPoint } from "../../rules/checks/salt-points.js";
import { SALTS, type Salt } from "../../shared/check.js";

/*
 * Greenspan L (1977), Humidity fixed points of binary saturated aqueous solutions, J. Res. Natl.
 * Bur. Stand. 81A:89–96. The rule holds the table; the polynomials of the same paper, as OIML R 121
 * repeats them, say it again in another way. The linear term of LiCl is positive: some copies
 * print a minus, which gives 10.9 % at 25 °C where the table has 11.3 %.
 */
const POLYNOMIALS: readonly (readonly [Salt, readonly number[]])[] = [
  ["LiCl", [11.2323, 0.00824245, -0.00021489]],
  ["MgCl2", [33.6686, -0.00797397, -0.00108988]],
  ["NaCl", [75.5164, 0.0398321, -0.00265459, 2.848e-5]],
  ["KCl", [88.619, -0.19334, 0.000899706]],
];

describe.each(POLYNOMIALS)("%s", (salt, coefficients) => {
  test("agrees with the paper's polynomial at every degree", () => {
    for (let t = 0; t <= 25; t += 0.5) {
      const published = coefficients.reduce((sum, a, power) => sum + a * t ** power, 0);
      const off = saltPoint(salt, t).humidityPct - published;
      // 0.01 for the table's last digit, 0.02 for a straight line between its values.
      expect(Math.abs(off), `${t} °C`).toBeLessThan(0.03);
    }
  });
});

describe("agrees to its own accuracy with the older fits", () => {
  // Wexler's fits in the CRC Handbook, RH = A·exp(B/T), good to ± 2 %RH. K2SO4 and NaCl keep to
  // them over the whole range, magnesium nitrate from 15 °C up.
  test.each([
    ["K2SO4", 86.75, 34, 0],
    ["NaCl", 69.2, 25, 0],
    ["KCl", 49.38, 159, 0],
    ["MgCl2", 29.26, 34, 0],
    ["LiCl", 14.53, -75, 0],
    ["Mg(NO3)2", 25.28, 220, 15],
  ] as const)("%s", (salt, a, b, fromC) => {
    for (let t = fromC; t <= 25; t += 5) {
      const fitted = a * Math.exp(b / (t + 273.15));
      expect(Math.abs(saltPoint(salt, t).humidityPct - fitted), `${t} °C`).toBeLessThan(2);
    }
  });
});

test.each(SALTS)("a temperature outside the table is refused for %s, and so is none", (salt) => {
  for (const t of [-0.1, 25.1, Number.NaN]) expect(() => saltPoint(salt, t)).toThrow(RangeError);
});

test("the edges of the table belong to it", () => {
  // Table 2 of the paper at 0 and 25 °C.
  expect(saltPoint("NaCl", 0).humidityPct).toBe(75.51);
  expect(saltPoint("NaCl", 25).humidityPct).toBeCloseTo(75.29, 10);
  expect(saltPoint("KCl", 25).perKelvinPct).toBeCloseTo((84.34 - 85.11) / 5, 10);
});
