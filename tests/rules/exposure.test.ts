import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { addExposure, beginExposure, type Exposure, meanKineticC } from "../../rules/exposure.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";

// Trade's fridge band, common practice, no source.
const BAND = { low: 1.1, high: 3.3 };
const NEVER_DARK_MS = Number.POSITIVE_INFINITY;

/** Live through points (hours, °C) joined by straight lines. */
function live(points: readonly (readonly [hours: number, cocoonC: number])[]): Exposure {
  const [[startH, startC], ...rest] = points as [readonly [number, number], ...typeof points];
  let sum = beginExposure(startH * HOUR_MS, startC);
  for (const [hours, cocoonC] of rest)
    sum = addExposure(sum, hours * HOUR_MS, cocoonC, BAND, NEVER_DARK_MS);
  return sum;
}

/** Hours at each temperature in turn, with a change so quick that it counts for nothing. */
function liveSteps(steps: readonly (readonly [hours: number, cocoonC: number])[]): Exposure {
  let sum = beginExposure(0, steps[0]![1]);
  for (const [hours, cocoonC] of steps) {
    sum = addExposure(sum, sum.atMs + 1e-6, cocoonC, BAND, NEVER_DARK_MS);
    sum = addExposure(sum, sum.atMs + hours * HOUR_MS, cocoonC, BAND, NEVER_DARK_MS);
  }
  return sum;
}

describe("mean kinetic temperature", () => {
  // USP <1160>: T_K = (ΔH/R)/−ln(Σ tᵢ exp(−ΔH/RTᵢ)/Σ tᵢ), ΔH = 83.14472 kJ/mol and
  // R = 8.314472 J/(mol·K). No worked example is published with its data: these results were
  // computed independently in 40-digit arithmetic.
  test.each([
    ["a constant 2 °C", [[5, 2]], 2],
    [
      "20 and 30 °C for the same time",
      [
        [1, 20],
        [1, 30],
      ],
      26.2598869160034,
    ],
    [
      "0 and 5 °C for the same time",
      [
        [1, 0],
        [1, 5],
      ],
      2.88198195926749,
    ],
    [
      "both ends of the band",
      [
        [1, 1.1],
        [1, 3.3],
      ],
      2.27514691928884,
    ],
    [
      "23 h at 2 °C and 1 h at 12 °C",
      [
        [23, 2],
        [1, 12],
      ],
      2.77435869504342,
    ],
    [
      "90 d at 2 °C and 6 h at 20 °C",
      [
        [2160, 2],
        [6, 20],
      ],
      2.17250093113066,
    ],
    [
      "90 d at 2 °C and 24 h at 20 °C",
      [
        [2160, 2],
        [24, 20],
      ],
      2.6635306000833,
    ],
    [
      "22 h at 2 °C, one at 4 and one at 8 °C",
      [
        [22, 2],
        [1, 4],
        [1, 8],
      ],
      2.4513339284835,
    ],
  ] as const)("of %s", (_name, steps, expectedC) => {
    // The quick changes between steps cost a few parts in 10¹¹.
    expect(meanKineticC(liveSteps(steps))).toBeCloseTo(expectedC, 8);
  });

  test("of a course sampled at unequal distances weighs each by its time", () => {
    // Computed independently as above, each interval by the mean of its two ends; without
    // weights it would be 3.686 °C.
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
    // The rule may be nearer to the straight line than the trapezoid is: 0.01 K.
    expect(meanKineticC(live(course))!).toBeGreaterThan(2.32646526236779 - 0.01);
    expect(meanKineticC(live(course))!).toBeLessThan(2.32646526236779 + 0.01);
  });

  test("is unknown before any time was seen", () => {
    expect(meanKineticC(beginExposure(0, 2))).toBeNull();
  });
});

describe("reserve", () => {
  // Q10 = 2.5 about 4 °C (from memory, the usual range of dormant insects): rate = 2.5^((T−4)/10),
  // derived here by arithmetic.
  test.each([
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: 2.5^−0.4, near ln 2 by chance
    [0, 0.6931],
    [4, 1],
    [7, 1.3164],
    [10, 1.7329],
    [20, 4.3322],
    [22, 5.2035],
  ])("at %s °C is burnt at %s of the rate at 4 °C", (cocoonC, rate) => {
    const day = live([
      [0, cocoonC],
      [24, cocoonC],
    ]);
    expect(Math.abs(day.reserveDays - rate)).toBeLessThan(5e-5);
  });

  test("a day at 20 °C costs 3.03 days with a Q10 of 2 and 5.80 with one of 3", () => {
    // 2^1.6 and 3^1.6, the span beside 2.5.
    const day = live([
      [0, 20],
      [24, 20],
    ]);
    expect(Math.abs(day.reserveDaysQ2 - 3.0314)).toBeLessThan(5e-5);
    expect(Math.abs(day.reserveDaysQ3 - 5.7995)).toBeLessThan(5e-5);
  });

  test("half the time at 0 and half at 8 °C costs 1.06792 of the mean, 4 °C", () => {
    const both = liveSteps([
      [12, 0],
      [12, 8],
    ]);
    expect(Math.abs(both.reserveDays - 1.06792)).toBeLessThan(1e-5);
  });

  test("a day at 20 °C costs 4.33 days", () => {
    const day = live([
      [0, 20],
      [24, 20],
    ]);
    expect(Math.abs(day.reserveDays - 4.33)).toBeLessThan(0.005);
  });

  test("a sine of 4 ± 3 °C costs what its Bessel function says", () => {
    // Mean of exp(a·sin) over a turn is the modified Bessel function I₀(a); a = 3·ln 2.5/10
    // gives 1.01898.
    const points = Array.from(
      { length: 24 * 60 + 1 },
      (_, i) => [i / 60, 4 + 3 * Math.sin((2 * Math.PI * i) / (24 * 60))] as const,
    );
    expect(Math.abs(live(points).reserveDays - 1.01898)).toBeLessThan(1e-5);
  });
});

describe("degree-hours and time in band on straight lines", () => {
  test("four hours two kelvin above the band are eight degree-hours", () => {
    const sum = live([
      [0, 5.3],
      [4, 5.3],
    ]);
    expect(sum.degreeHoursAbove).toBeCloseTo(8, 9);
    expect(sum.degreeHoursBelow).toBe(0);
    expect(sum.inBandMs).toBe(0);
  });

  test("a line through the upper edge counts its triangle only", () => {
    // 2.3 → 5.3 °C in 3 h: above 3.3 °C for the last 2 h, a triangle of 2 h by 2 K.
    const sum = live([
      [0, 2.3],
      [3, 5.3],
    ]);
    expect(sum.degreeHoursAbove).toBeCloseTo(2, 9);
    expect(sum.inBandMs / HOUR_MS).toBeCloseTo(1, 9);
    expect(sum.seenMs / HOUR_MS).toBe(3);
  });

  test("a line through the lower edge counts its triangle only", () => {
    // 2.1 → −0.9 °C in 3 h: below 1.1 °C for the last 2 h.
    const sum = live([
      [0, 2.1],
      [3, -0.9],
    ]);
    expect(sum.degreeHoursBelow).toBeCloseTo(2, 9);
    expect(sum.degreeHoursAbove).toBe(0);
    expect(sum.inBandMs / HOUR_MS).toBeCloseTo(1, 9);
  });

  test("a line through the whole band counts both ends", () => {
    // −0.9 → 5.3 °C in 6.2 h, a kelvin an hour: 2 h below, 2.2 h in the band, 2 h above.
    const sum = live([
      [0, -0.9],
      [6.2, 5.3],
    ]);
    expect(sum.degreeHoursBelow).toBeCloseTo(2, 9);
    expect(sum.degreeHoursAbove).toBeCloseTo(2, 9);
    expect(sum.inBandMs / HOUR_MS).toBeCloseTo(2.2, 9);
  });

  test.each([1.1, 2.2, 3.3])("%s °C is in the band for all its time", (cocoonC) => {
    const sum = live([
      [0, cocoonC],
      [5, cocoonC],
    ]);
    expect(sum.inBandMs).toBe(sum.seenMs);
  });

  test.each([1.09, 3.31])("%s °C is outside for all its time", (cocoonC) => {
    const sum = live([
      [0, cocoonC],
      [5, cocoonC],
    ]);
    expect(sum.inBandMs).toBe(0);
  });
});

test("time that was not seen adds nothing but the coldest and warmest met on its far side", () => {
  const before = live([
    [0, 2],
    [1, 4],
  ]);
  const across = addExposure(before, HOUR_MS + 31 * MINUTE_MS, 15, BAND, 30 * MINUTE_MS);
  const atMs = HOUR_MS + 31 * MINUTE_MS;
  expect(across).toEqual({ ...before, atMs, cocoonC: 15, warmestC: 15 });
});

test("a gap counts as seen at its limit and as dark beyond it", () => {
  const start = beginExposure(0, 2);
  const seen = (spanMs: number) => addExposure(start, spanMs, 2, BAND, 30 * MINUTE_MS).seenMs;
  expect(seen(30 * MINUTE_MS)).toBe(30 * MINUTE_MS);
  expect(seen(30 * MINUTE_MS + 1)).toBe(0);
});

test("time that stands still or runs backwards changes nothing", () => {
  const sum = live([
    [0, 2],
    [1, 4],
  ]);
  expect(addExposure(sum, sum.atMs, 9, BAND, NEVER_DARK_MS)).toBe(sum);
  expect(addExposure(sum, sum.atMs - 1, 9, BAND, NEVER_DARK_MS)).toBe(sum);
});

const cocoonC = fc.double({ min: -8, max: 25, noNaN: true });
const share = fc.double({ min: 0.01, max: 0.99, noNaN: true });

test("splitting an interval changes no sum", () => {
  fc.assert(
    fc.property(cocoonC, cocoonC, share, (fromC, toC, where) => {
      const whole = live([
        [0, fromC],
        [6, toC],
      ]);
      const split = live([
        [0, fromC],
        [6 * where, fromC + (toC - fromC) * where],
        [6, toC],
      ]);
      // A microkelvin of warming is taken for none: half a millionth of a rate.
      for (const sum of [
        "seenMs",
        "inBandMs",
        "degreeHoursAbove",
        "degreeHoursBelow",
        "reserveDays",
        "reserveDaysQ2",
        "reserveDaysQ3",
      ] as const)
        expect(Math.abs(split[sum] - whole[sum]), sum).toBeLessThan(
          1e-6 * Math.max(1, Math.abs(whole[sum])),
        );
    }),
    { seed: 4, numRuns: 400 },
  );
});

test("splitting a step between readings moves the mean kinetic temperature by the trapezoid's error", () => {
  // That error is h²/12 of the curvature (textbook): in kelvin h²·(ΔH/RT²)/12, with ΔH/R =
  // 10 000 K and T from 263 K. For the 0.3 K of a usual step it is a thousandth of a kelvin.
  const boundK = (byC: number) => (byC ** 2 * (10_000 / 263 ** 2)) / 12 + 1e-9;
  const step = fc.double({ min: -2, max: 2, noNaN: true });
  fc.assert(
    fc.property(cocoonC, step, share, (fromC, byC, where) => {
      const whole = live([
        [0, fromC],
        [1, fromC + byC],
      ]);
      const split = live([
        [0, fromC],
        [where, fromC + byC * where],
        [1, fromC + byC],
      ]);
      expect(Math.abs(meanKineticC(split)! - meanKineticC(whole)!)).toBeLessThan(boundK(byC));
    }),
    { seed: 5, numRuns: 400 },
  );
});

test("warmer cocoons never burn less, nor have fewer degree-hours above the band", () => {
  const course = fc.array(fc.tuple(cocoonC, fc.double({ min: 0, max: 5, noNaN: true })), {
    minLength: 2,
    maxLength: 20,
  });
  fc.assert(
    fc.property(course, (points) => {
      const cool = live(points.map(([c], i) => [i, c] as const));
      const warm = live(points.map(([c, moreK], i) => [i, c + moreK] as const));
      expect(warm.reserveDays).toBeGreaterThanOrEqual(cool.reserveDays - 1e-12);
      expect(warm.degreeHoursAbove).toBeGreaterThanOrEqual(cool.degreeHoursAbove - 1e-12);
      expect(warm.degreeHoursBelow).toBeLessThanOrEqual(cool.degreeHoursBelow + 1e-12);
      expect(meanKineticC(warm)!).toBeGreaterThanOrEqual(meanKineticC(cool)! - 1e-9);
    }),
    { seed: 6, numRuns: 300 },
  );
});

test("the mean kinetic temperature lies between the coldest and the warmest", () => {
  fc.assert(
    fc.property(fc.array(cocoonC, { minLength: 2, maxLength: 30 }), (course) => {
      const sum = live(course.map((c, i) => [i * (DAY_MS / HOUR_MS / 24), c] as const));
      const meanC = meanKineticC(sum)!;
      expect(meanC).toBeGreaterThanOrEqual(sum.coldestC - 1e-9);
      expect(meanC).toBeLessThanOrEqual(sum.warmestC + 1e-9);
    }),
    { seed: 7, numRuns: 300 },
  );
});
