import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Approach, foretell } from "../../rules/forecast.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const exactly = (value: number) => ({ low: value, high: value });

/** Air that is already where it settles, so that only the cocoons' lag is left. */
function settled(cocoonC: number, airC: number, lagMs: number): Approach {
  return {
    cocoonC,
    airC,
    settlesAtC: exactly(airC),
    airLagMs: exactly(1),
    cocoonLagMs: exactly(lagMs),
  };
}

/** Newton's law of cooling solved for time (textbook): t = τ·ln((S − y₀)/(S − y)), min. */
const closedFormMin = (cocoonC: number, airC: number, targetC: number, lagMs: number) =>
  ((lagMs / MINUTE_MS) * Math.log((airC - cocoonC) / (airC - targetC))) as number;

describe("with air that has settled, the cocoons' way is the closed form", () => {
  // Steps of two minutes joined by straight lines are off by less than h²/8τ: a second or so
  // for lags of half an hour and more.
  test.each([
    [2.5, 20, 3.3, HOUR_MS],
    [2.5, 20, 10, HOUR_MS],
    [2.5, 14, 10, 2 * HOUR_MS],
    [3, 12, 10, 30 * MINUTE_MS],
    [2.5, -4, 1.1, HOUR_MS],
    [2.5, -4, 0, 90 * MINUTE_MS],
  ])("from %s °C in air of %s °C to %s °C", (cocoonC, airC, targetC, lagMs) => {
    const { reaches } = foretell(settled(cocoonC, airC, lagMs), [targetC]);
    expect(reaches).toHaveLength(1);
    const expectedMin = closedFormMin(cocoonC, airC, targetC, lagMs);
    expect(Math.abs(reaches[0]!.soonestMin - expectedMin)).toBeLessThan(0.02);
    expect(Math.abs(reaches[0]!.latestMin! - expectedMin)).toBeLessThan(0.02);
  });
});

test("two lags in a row are the textbook's second-order step", () => {
  // Cocoons at S₀ with air at S₀ that approaches S with a lag of a, cocoons' lag b:
  // y = S + (S₀ − S)·(a·exp(−t/a) − b·exp(−t/b))/(a − b). At S₀ = 2, S = 20 °C, a = 6 h, b = 1 h
  // and t = 3 h: y = 20 − 18·(6·e^(−1/2) − e^(−3))/5.
  const afterThreeHoursC = 20 - (18 * (6 * Math.exp(-0.5) - Math.exp(-3))) / 5;
  const approach: Approach = {
    cocoonC: 2,
    airC: 2,
    settlesAtC: exactly(20),
    airLagMs: exactly(6 * HOUR_MS),
    cocoonLagMs: exactly(HOUR_MS),
  };
  const [reach] = foretell(approach, [afterThreeHoursC]).reaches;
  // Two minutes of the air's curve taken as straight: well under a tenth of a minute.
  expect(Math.abs(reach!.soonestMin - 180)).toBeLessThan(0.1);
});

test("targets already passed are left out, on the way up and on the way down", () => {
  const targets = (approach: Approach) => foretell(approach, [0, 1.1, 3.3, 10]).reaches;
  expect(targets(settled(4, 20, HOUR_MS)).map((r) => r.targetC)).toEqual([10]);
  expect(targets(settled(3.3, 20, HOUR_MS)).map((r) => r.targetC)).toEqual([10]);
  expect(targets(settled(12, 20, HOUR_MS))).toEqual([]);
  expect(targets(settled(1.1, -5, HOUR_MS)).map((r) => r.targetC)).toEqual([0]);
});

test("a target beyond where everything settles is left out", () => {
  expect(foretell(settled(3, 9.9, HOUR_MS), [10]).reaches).toEqual([]);
});

test("a target that only the fast end reaches may never come, and says so", () => {
  const approach = { ...settled(3, 8, HOUR_MS), settlesAtC: { low: 8, high: 14 } };
  const [reach] = foretell(approach, [10]).reaches;
  expect(reach!.latestMin).toBeNull();
  expect(reach!.soonestMin).toBeGreaterThan(0);
});

test("nothing is foretold beyond two days", () => {
  const slow = (hours: number) => settled(2, 10, hours * HOUR_MS);
  // To 6 °C is ln 2 of a lag: 48 h for a lag of 69.25 h.
  expect(foretell(slow(69), [6]).reaches).toHaveLength(1);
  expect(foretell(slow(69.5), [6]).reaches).toHaveLength(0);
});

const span = (low: number, high: number) =>
  fc
    .tuple(
      fc.double({ min: low, max: high, noNaN: true }),
      fc.double({ min: 1, max: 4, noNaN: true }),
    )
    .map(([least, ratio]) => ({ low: least, high: least * ratio }));

test("the soonest is never after the latest, and both are ahead", () => {
  const approach = fc.record({
    cocoonC: fc.double({ min: -2, max: 8, noNaN: true }),
    settlesAtC: span(9, 25),
    airLagMs: span(2 * MINUTE_MS, 16 * HOUR_MS),
    cocoonLagMs: span(20 * MINUTE_MS, 3 * HOUR_MS),
    airShare: fc.double({ min: 0, max: 1, noNaN: true }),
  });
  let reached = 0;
  fc.assert(
    fc.property(approach, fc.boolean(), ({ airShare, ...rest }, mirrored) => {
      // Air between the cocoons and where it will settle.
      const airC = rest.cocoonC + (rest.settlesAtC.low - rest.cocoonC) * airShare;
      const sign = mirrored ? -1 : 1;
      const { low, high } = rest.settlesAtC;
      const forecast = foretell(
        {
          ...rest,
          cocoonC: sign * rest.cocoonC,
          airC: sign * airC,
          settlesAtC: mirrored ? { low: -high, high: -low } : { low, high },
        },
        [sign * 3.3, sign * 10],
      );
      for (const { soonestMin, latestMin } of forecast.reaches) {
        reached++;
        expect(soonestMin).toBeGreaterThanOrEqual(0);
        if (latestMin !== null) expect(latestMin).toBeGreaterThanOrEqual(soonestMin - 1e-6);
      }
    }),
    { seed: 8, numRuns: 300 },
  );
  expect(reached).toBeGreaterThan(200);
});
