import { expect, test } from "vitest";
import { fitLine, lineAt, lineSdAt } from "../../rules/checks/straight-line.js";
import { combine } from "../../rules/checks/uncertainty.js";

/*
 * JCGM 100:2008 (GUM), annex H.3, the calibration of a thermometer: readings and corrections of
 * table H.6, and the results printed in H.3.3 and H.3.4.
 */
const READINGS_C = [
  21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511,
];
const CORRECTIONS_C = [
  -0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16,
];
const REFERENCE_C = 20;

const line = fitLine(READINGS_C.map((x, i) => ({ x, y: CORRECTIONS_C[i]! })));

/** As many decimals as the guide prints. */
const printed = (value: number, decimals: number) => Number(value.toFixed(decimals));

test("the calibration curve of the guide comes out to its printed digits", () => {
  expect(printed(lineAt(line, REFERENCE_C), 4)).toBe(-0.1712);
  expect(printed(lineSdAt(line, REFERENCE_C), 4)).toBe(0.0029);
  expect(printed(line.slope, 5)).toBe(0.00218);
  expect(printed(line.slopeSd, 5)).toBe(0.00067);
  // 0.0035 °C and r = −0.930 from memory of H.3.3; the rest was read in a copy.
  expect(printed(line.residualSd, 4)).toBe(0.0035);
  expect(line.degreesOfFreedom).toBe(9);
});

test("intercept and slope are correlated as the guide says where the line is taken at 20 °C", () => {
  const covariance = (REFERENCE_C - line.pivot) * line.slopeSd ** 2;
  const correlation = covariance / (lineSdAt(line, REFERENCE_C) * line.slopeSd);
  expect(printed(correlation, 2)).toBe(-0.93);
});

test("the predicted correction at 30 °C and its uncertainty are the guide's", () => {
  expect(printed(lineAt(line, 30), 4)).toBe(-0.1494);
  expect(printed(lineSdAt(line, 30), 4)).toBe(0.0041);
});

test("the pivot is where the guide finds the two coefficients uncorrelated", () => {
  // H.3.5: t₀ = 24.0085 °C, the mean of the readings.
  expect(printed(line.pivot, 4)).toBe(24.0085);
});

test("combined uncertainty and effective degrees of freedom of the end gauge are the guide's", () => {
  // JCGM 100:2008, H.1.5 and H.1.6, from memory: 25, 9.7, 2.9 and 16.6 nm with 18, 25.6, 50 and 2
  // degrees of freedom combine to 32 nm with 16.7; the guide works with unrounded parts.
  const component = (standard: number, degreesOfFreedom: number) =>
    ({ what: "", kind: "B", standard, degreesOfFreedom, from: "" }) as const;
  const budget = combine([
    component(25, 18),
    component(9.7, 25.6),
    component(2.9, 50),
    component(16.6, 2),
  ]);
  expect(printed(budget.combined, 0)).toBe(32);
  expect(Math.abs(budget.degreesOfFreedom! - 16.7)).toBeLessThan(0.1);
});
