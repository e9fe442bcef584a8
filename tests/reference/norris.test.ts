import { expect, test } from "vitest";
import { fitLine, lineAt, lineSdAt } from "../../rules/checks/straight-line.js";

// NIST/ITL Statistical Reference Datasets, linear regression, Norris (public domain):
// https://www.itl.nist.gov/div898/strd/lls/data/Norris.shtml
const X = [
  0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9,
  338, 447.5, 11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1,
  118.3, 229.2, 669.1, 448.9, 0.5,
];
const Y = [
  0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8,
  339.3, 448.9, 10.8, 557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9,
  10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
];

const CERTIFIED = {
  B0: -0.262323073774029,
  sdB0: 0.232818234301152,
  B1: 1.00211681802045,
  sdB1: 0.429796848199937e-3,
  residualSd: 0.884796396144373,
};
/** NIST asks for nine digits or more of a lower-level set; the certificates give fifteen. */
const RELATIVE = 1e-11;

test("the certified line of Norris comes out to eleven digits", () => {
  const line = fitLine(X.map((x, i) => ({ x, y: Y[i]! })));
  const near = (value: number, certified: number) =>
    expect(Math.abs(value / certified - 1)).toBeLessThan(RELATIVE);
  near(lineAt(line, 0), CERTIFIED.B0);
  near(lineSdAt(line, 0), CERTIFIED.sdB0);
  near(line.slope, CERTIFIED.B1);
  near(line.slopeSd, CERTIFIED.sdB1);
  near(line.residualSd, CERTIFIED.residualSd);
  expect(line.degreesOfFreedom).toBe(34);
});
