import fc from "fast-check";
import { expect, test } from "vitest";
import { proportionOf } from "../../rules/year/proportion.js";

// Newcombe RG (1998), Two-sided confidence intervals for the single proportion: comparison of
// seven methods, Stat. Med. 17:857–872, table I, method 3. The limits are from memory; that 81 of
// 263 and 15 of 148 are its examples is confirmed by the documentation of an R function that
// repeats them.
test.each([
  [81, 263, 0.2553, 0.3662],
  [15, 148, 0.0624, 0.1605],
  [0, 20, 0, 0.1611],
  [1, 29, 0.0061, 0.1718],
])("%i of %i lies between the limits that Newcombe printed", (count, of, low, high) => {
  const { span } = proportionOf(count, of);
  // Printed to four decimals.
  expect(Math.abs(span.low - low)).toBeLessThanOrEqual(0.00005);
  expect(Math.abs(span.high - high)).toBeLessThanOrEqual(0.00005);
});

// README of the JavaScript package msn0/wilson-score-interval, MIT, which takes z = 1.96.
test.each([
  [430, 474, 0.8776750858242243, 0.9301239839930541],
  [392, 436, 0.8672311846637769, 0.9239627360567735],
  [10, 14, 0.4535045882751561, 0.882788120898909],
])("%i of %i agrees with another program", (count, of, low, high) => {
  const { span } = proportionOf(count, of);
  // 1.96 for 1.95996 widens the interval by two parts in 100,000.
  expect(Math.abs(span.low - low)).toBeLessThan(5e-6);
  expect(Math.abs(span.high - high)).toBeLessThan(5e-6);
});

test("the limits are where the score test just rejects", () => {
  // Wilson (1927): (share − p)² = z² p(1 − p)/n at either limit, which is how they are defined.
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 2_000 }), fc.nat(2_000), (of, some) => {
      const count = some % (of + 1);
      const { share, span } = proportionOf(count, of);
      for (const p of [span.low, span.high]) {
        if (p === 0 || p === 1) continue;
        const z2 = (share - p) ** 2 / ((p * (1 - p)) / of);
        expect(z2).toBeCloseTo(1.959963984540054 ** 2, 6);
      }
      expect(span.low).toBeGreaterThanOrEqual(0);
      expect(span.high).toBeLessThanOrEqual(1);
    }),
    { seed: 1107 },
  );
});

test.each([
  [1, 0],
  [-1, 5],
  [6, 5],
  [0.5, 5],
  [Number.NaN, 5],
])("%d of %d is no sample", (count, of) => {
  expect(() => proportionOf(count, of)).toThrow(RangeError);
});
