import { expect, test } from "vitest";
import { addExposure, beginExposure, meanKineticC } from "../../rules/exposure.js";
import { HOUR_MS } from "../../shared/time.js";

// USP <1160>, with ΔH = 83.14472 kJ/mol and R = 8.314472 J/(mol·K); at unequal distances the
// trapezoid of Tong C, Lock A (2015), A computational procedure for mean kinetic temperature using
// unequally spaced data, JSM Proceedings. No worked example is published with its data: the
// results here were computed independently in 40-digit arithmetic.

const BAND = { low: 1.1, high: 3.3 };

function meanOf(points: readonly (readonly [hours: number, c: number])[]): number {
  let sum = beginExposure(points[0]![0] * HOUR_MS, points[0]![1]);
  for (const [hours, c] of points.slice(1))
    sum = addExposure(sum, hours * HOUR_MS, c, BAND, Number.POSITIVE_INFINITY);
  return meanKineticC(sum)!;
}

test("a course at unequal distances, by the trapezoid", () => {
  const course = [
    [0, 2],
    [0.25, 2.5],
    [0.5, 6],
    [0.75, 7.5],
    [1, 5],
    [2, 3],
    [3, 2.4],
    [6, 2.1],
    [12, 2],
    [24, 2],
  ] as const;
  expect(meanOf(course)).toBeCloseTo(2.32646526236779, 8);
  // What an unweighted mean of the same values would say.
  expect(Math.abs(meanOf(course) - 3.68635486100998)).toBeGreaterThan(1);
});

test("a course at equal distances, by the trapezoid", () => {
  const course = [2, 3, 8, 3, 2].map((c, hours) => [hours, c] as const);
  expect(meanOf(course)).toBeCloseTo(4.36647635523326, 8);
});

test("twelve months of one weight each", () => {
  const months = [1.5, 1.8, 2.0, 2.2, 2.4, 2.1, 1.9, 2.0, 2.6, 3.0, 3.3, 2.8];
  // Each month is held; the change between two takes no time to speak of.
  const course = months.flatMap((c, i) => [
    [i * 730, c] as const,
    [i * 730 + 730 - 1e-6, c] as const,
  ]);
  expect(meanOf(course)).toBeCloseTo(2.31633186000397, 7);
});
