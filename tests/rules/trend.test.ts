import fc from "fast-check";
import { expect, test } from "vitest";
import { theilSen, Z_90, Z_95 } from "../../rules/trend.js";

const points = (values: readonly number[]) => values.map((y, x) => ({ x, y }));

test("one wild value in seven leaves the slope alone, where least squares is bent", () => {
  // Helsel and Hirsch, Statistical Methods in Water Resources, 12.1 (from memory): slope 1, where
  // least squares gives 1.71.
  expect(theilSen(points([1, 2, 3, 4, 5, 16, 7]))!.slope).toBe(1);
});

test("a straight line is its own trend, without doubt", () => {
  const trend = theilSen(points([70, 69.5, 69, 68.5, 68]))!;
  expect(trend.slope).toBe(-0.5);
  expect(trend.slopeSpan).toEqual({ low: -0.5, high: -0.5 });
  expect(trend.middle).toEqual({ x: 2, y: 69 });
});

test("points at one time, or hardly any, have no trend", () => {
  expect(theilSen(points([1, 2, 3]))).toBeNull();
  expect(theilSen([1, 2, 3, 4].map((y) => ({ x: 5, y })))).toBeNull();
});

test("more confidence makes the span wider", () => {
  const values = points([70, 71, 69, 70, 68, 69, 66, 68, 67, 66]);
  const usual = theilSen(values, Z_90)!.slopeSpan;
  const sure = theilSen(values, Z_95)!.slopeSpan;
  expect(sure.low).toBeLessThan(usual.low);
  expect(sure.high).toBeGreaterThan(usual.high);
});

const finite = fc.double({ min: -100, max: 100, noNaN: true });

test("the slope is the median of all pairs, as counted by brute force", () => {
  const course = fc.uniqueArray(fc.integer({ min: 0, max: 60 }), { minLength: 4, maxLength: 12 });
  fc.assert(
    fc.property(course, fc.array(finite, { minLength: 12, maxLength: 12 }), (xs, ys) => {
      const used = xs.map((x, i) => ({ x, y: ys[i]! }));
      const all: number[] = [];
      for (let i = 0; i < used.length; i++)
        for (let j = 0; j < used.length; j++)
          if (used[i]!.x < used[j]!.x)
            all.push((used[j]!.y - used[i]!.y) / (used[j]!.x - used[i]!.x));
      all.sort((a, b) => a - b);
      const half = all.length / 2;
      const median = Number.isInteger(half)
        ? (all[half - 1]! + all[half]!) / 2
        : all[Math.floor(half)]!;
      expect(theilSen(used)!.slope).toBeCloseTo(median, 10);
    }),
    { seed: 36, numRuns: 200 },
  );
});

test("order does not matter, a shift not either, and a falling course turned over rises", () => {
  const course = fc.array(fc.tuple(fc.integer({ min: 0, max: 60 }), finite), {
    minLength: 4,
    maxLength: 20,
  });
  fc.assert(
    fc.property(course, finite, (pairs, shift) => {
      const used = pairs.map(([x, y]) => ({ x, y }));
      const trend = theilSen(used);
      if (trend === null) return;
      expect(theilSen(used.toReversed())!.slope).toBeCloseTo(trend.slope, 9);
      const shifted = theilSen(used.map(({ x, y }) => ({ x: x + 3, y: y + shift })))!;
      expect(shifted.slope).toBeCloseTo(trend.slope, 9);
      const turned = theilSen(used.map(({ x, y }) => ({ x, y: -y })))!;
      expect(turned.slope).toBeCloseTo(-trend.slope, 9);
      expect(turned.slopeSpan.low).toBeCloseTo(-trend.slopeSpan.high, 9);
      expect(trend.slopeSpan.low).toBeLessThanOrEqual(trend.slope);
      expect(trend.slopeSpan.high).toBeGreaterThanOrEqual(trend.slope);
    }),
    { seed: 37, numRuns: 200 },
  );
});

test("values that tie narrow the span as the formula has it", () => {
  const ys = [1, 1, 2, 3, 3, 3, 4, 5];
  // By hand, Gilbert (1987), 16.4.2: [8·7·21 − 2·1·9 − 3·2·11] / 18, for a tie of two and of three.
  const reach = 1.644854 * Math.sqrt((8 * 7 * 21 - 2 * 1 * 9 - 3 * 2 * 11) / 18);
  const slopes: number[] = [];
  for (let i = 0; i < ys.length; i++)
    for (let j = i + 1; j < ys.length; j++) slopes.push((ys[j]! - ys[i]!) / (j - i));
  slopes.sort((a, b) => a - b);
  // Ranks count from 1 and lie between two slopes.
  const at = (rank: number) => {
    const below = Math.floor(rank);
    return slopes[below - 1]! + (rank - below) * (slopes[below]! - slopes[below - 1]!);
  };
  const { slopeSpan } = theilSen(points(ys), Z_90)!;
  expect(slopeSpan.low).toBeCloseTo(at((28 - reach) / 2), 12);
  expect(slopeSpan.high).toBeCloseTo(at((28 + reach) / 2 + 1), 12);
});

test("only the last ninety points count", () => {
  const turned = [...Array(90)].map((_, i) => i).concat([...Array(90)].map((_, i) => -i));
  expect(theilSen(points(turned))!.slope).toBe(-1);
});
