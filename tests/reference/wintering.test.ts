import { describe, expect, test } from "vitest";
import { addExposure, beginExposure } from "../../rules/exposure.js";
import { matrixVerdict, steadyC, winterVerdict } from "../../rules/matrix.js";
import { DAY_MS } from "../../shared/time.js";

// Bosch J, Kemp WP (2003), Effect of wintering duration and temperature on survival and emergence
// time in males of the orchard pollinator Osmia lignaria, Environ. Entomol. 32:711–716. From its
// abstract: 10 °C and more is unsuitable even for short periods; at 7 °C mortality rises beyond
// 150 d; 210 d and more require 4 °C or less.
const MATRIX: readonly (readonly [c: number, suits: readonly boolean[]])[] = [
  [0, [true, true, true, true]],
  [4, [true, true, true, true]],
  [7, [true, true, false, false]],
  [10, [false, false, false, false]],
  [13, [false, false, false, false]],
];
const DAYS = [90, 150, 210, 270];

describe.each(MATRIX)("wintered at %s °C", (c, suits) => {
  test.each(DAYS.map((days, i) => [days, suits[i]!] as const))(
    "for %s days",
    (days, isSuitable) => {
      expect(matrixVerdict(days, c)).toBe(isSuitable ? "suitable" : "unsuitable");
    },
  );
});

const BAND = { low: 1.1, high: 3.3 };

function burnt(days: number, c: number): number {
  let sum = beginExposure(0, c);
  sum = addExposure(sum, days * DAY_MS, c, BAND, Number.POSITIVE_INFINITY);
  return sum.reserveDays;
}

test("what the matrix knows to fail burns more reserve than the longest it knows to do", () => {
  // Derived from it: 210 d at 7 °C failed where 270 d at 4 °C did not, so that the rate rises by
  // at least 270/210 in 3 K, a Q10 of 2.31. With ours, 2.5, it does.
  expect((270 / 210) ** (10 / 3)).toBeCloseTo(2.31, 2);
  expect(burnt(210, 7)).toBeGreaterThan(burnt(270, 4));
  expect(burnt(150, 7)).toBeLessThan(burnt(270, 4));
});

test("the steady temperature undoes the reserve's sum", () => {
  for (const c of [0, 2.2, 4, 7, 10, 20]) expect(steadyC(120, burnt(120, c))).toBeCloseTo(c, 9);
});

test("a winter at each cell of the matrix is judged at least as strictly as the matrix does", () => {
  // 200 d is the most that the SARE Handbook 11 (2010) calls usual.
  for (const [c, suits] of MATRIX)
    for (const [i, days] of DAYS.entries()) {
      const { verdict, matrix } = winterVerdict(days, burnt(days, c), 200)!;
      expect(matrix, `${days} d at ${c} °C`).toBe(suits[i] ? "suitable" : "unsuitable");
      if (!suits[i]) expect(verdict, `${days} d at ${c} °C`).toBe("harmed");
      else expect(verdict, `${days} d at ${c} °C`).not.toBe("harmed");
    }
});
