import fc from "fast-check";
import { expect, test } from "vitest";
import { followLinear } from "../../rules/lag.js";

const SECOND_MS = 1_000;

// Closed form of dy/dt = (x − y)/τ, a textbook result: a step of x from 2 to 12 °C, τ = 900 s,
// y = 12 − 10·exp(−t/τ). Computed independently in double precision.
const STEP: readonly (readonly [atS: number, bodyC: number])[] = [
  [60, 2.6449301496838222],
  [300, 4.8346868942621075],
  [450, 5.934693402873666],
  [900, 8.321205588285576],
  [1_800, 10.646647167633873],
  [2_700, 11.50212931632136],
  [3_600, 11.816843611112658],
  [4_500, 11.932620530009146],
];

test("a body behind a step of its surroundings follows the textbook's exponential", () => {
  for (const [atS, bodyC] of STEP)
    expect(followLinear(2, 12, 12, atS * SECOND_MS, 900 * SECOND_MS), `${atS} s`).toBeCloseTo(
      bodyC,
      11,
    );
});

test("samples at odd times give the same body as regular ones", () => {
  // The same closed form, at the odd times. Each step starts from the last result.
  const odd: readonly (readonly [atS: number, bodyC: number])[] = [
    [7, 2.0774760912987924],
    [61, 2.655318899143451],
    [62, 2.6656961119585567],
    [300, 4.8346868942621075],
    [899.5, 8.319161245792069],
    [900, 8.321205588285576],
    [2_000, 10.916319767781042],
    [3_600, 11.816843611112658],
  ];
  let bodyC = 2;
  let lastS = 0;
  for (const [atS, expectedC] of odd) {
    bodyC = followLinear(bodyC, 12, 12, (atS - lastS) * SECOND_MS, 900 * SECOND_MS);
    lastS = atS;
    expect(bodyC, `${atS} s`).toBeCloseTo(expectedC, 11);
  }
});

// Closed form for x = 2 °C + 0.001 °C/s · t, y(0) = 2 °C, τ = 900 s: y = x − mτ(1 − exp(−t/τ)).
// Textbook; computed independently.
const RAMP: readonly (readonly [atS: number, bodyC: number])[] = [
  [600, 2.1620754071293327],
  [1_200, 2.5372374243041538],
  [1_800, 3.021801754912951],
  [2_400, 3.5625351061005213],
  [3_000, 4.132106594012527],
  [3_600, 4.716484074999861],
];

test("a body behind a ramp of its surroundings follows the textbook's closed form", () => {
  for (const [atS, bodyC] of RAMP)
    expect(
      followLinear(2, 2, 2 + 0.001 * atS, atS * SECOND_MS, 900 * SECOND_MS),
      `${atS} s`,
    ).toBeCloseTo(bodyC, 11);
});

test("a door open for two minutes warms each body as its own lag has it", () => {
  // Two steps in a row, 3 → 15 °C for 120 s and back for 600 s: the closed form applied twice.
  const doors = [
    { lagS: 60, peakC: 13.375976601160648, afterC: 3.0004710686089098 },
    { lagS: 300, peakC: 6.956159447572329, afterC: 3.5354079593664025 },
    { lagS: 900, peakC: 4.49792017148463, afterC: 3.7690578589844446 },
    { lagS: 1_800, peakC: 3.7739161796205867, afterC: 3.554535174457799 },
  ];
  for (const { lagS, peakC, afterC } of doors) {
    const atPeakC = followLinear(3, 15, 15, 120_000, lagS * SECOND_MS);
    expect(atPeakC, `peak, lag ${lagS} s`).toBeCloseTo(peakC, 11);
    const laterC = followLinear(atPeakC, 3, 3, 600_000, lagS * SECOND_MS);
    expect(laterC, `after, lag ${lagS} s`).toBeCloseTo(afterC, 11);
  }
});

test("a step far longer than the lag ends at the surroundings, where Euler's method runs away", () => {
  // After six lags the closed form is 12 − 10·exp(−6) = 11.975 °C; explicit Euler in steps of
  // 2τ says 22 °C and in steps of 3τ −28 °C.
  expect(followLinear(2, 12, 12, 5_400_000, 900_000)).toBeCloseTo(11.975212478233336, 11);
});

test("no time and time running backwards change nothing", () => {
  expect(followLinear(2.5, 4, 9, 0, 900_000)).toBe(2.5);
  expect(followLinear(2.5, 4, 9, -60_000, 900_000)).toBe(2.5);
});

const temperatureC = fc.double({ min: -20, max: 40, noNaN: true });
const spanMs = fc.integer({ min: 1, max: 86_400_000 });
const lagMs = fc.integer({ min: 60_000, max: 12 * 3_600_000 });

test("splitting an interval anywhere changes nothing", () => {
  fc.assert(
    fc.property(
      temperatureC,
      temperatureC,
      temperatureC,
      spanMs,
      lagMs,
      fc.double({ min: 0.001, max: 0.999, noNaN: true }),
      (bodyC, fromC, toC, wholeMs, ownLagMs, share) => {
        const whole = followLinear(bodyC, fromC, toC, wholeMs, ownLagMs);
        const middleC = fromC + (toC - fromC) * share;
        const half = followLinear(bodyC, fromC, middleC, wholeMs * share, ownLagMs);
        const split = followLinear(half, middleC, toC, wholeMs * (1 - share), ownLagMs);
        // Very short spans lose digits to 1 − exp(−x): a tenth of a microkelvin still.
        expect(Math.abs(split - whole)).toBeLessThan(1e-7);
      },
    ),
    { seed: 1, numRuns: 500 },
  );
});

test("a body never leaves the hull of itself and its surroundings", () => {
  fc.assert(
    fc.property(temperatureC, temperatureC, temperatureC, spanMs, lagMs, (bodyC, a, b, t, lag) => {
      const endC = followLinear(bodyC, a, b, t, lag);
      expect(endC).toBeGreaterThanOrEqual(Math.min(bodyC, a, b) - 1e-7);
      expect(endC).toBeLessThanOrEqual(Math.max(bodyC, a, b) + 1e-7);
    }),
    { seed: 2, numRuns: 500 },
  );
});
