import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { boundDark } from "../../rules/dark.js";
import { addExposure, beginExposure } from "../../rules/exposure.js";
import { followLinear } from "../../rules/lag.js";
import { HOUR_MS } from "../../shared/time.js";

const BAND = { low: 1.1, high: 3.3 };
const GAP = {
  gapMs: 6 * HOUR_MS,
  cocoonC: 3,
  airC: 3,
  afterC: null,
  roomC: { low: 18, high: 20 },
  warmingMs: { low: 4 * HOUR_MS, high: 8 * HOUR_MS },
  cocoonLagMs: { low: HOUR_MS, high: HOUR_MS },
  band: BAND,
  mayHaveCooled: false,
};

/**
 * Newton's law twice over, air at τ and cocoons an hour behind it: textbook, for cocoons from 3 °C
 * and air that has gone a share of the way to the room at once.
 */
function twice(roomC: number, hours: number, airH: number, share: number): number {
  const air = ((3 - roomC) * (1 - share) * airH) / (airH - 1);
  return (
    roomC + air * (Math.exp(-hours / airH) - Math.exp(-hours)) + (3 - roomC) * Math.exp(-hours)
  );
}

// What the air does within minutes, before the time constant counts: our choice of the rule.
const SLOW_SHARE = 0.05;
const FAST_SHARE = 0.4;

describe("a power cut", () => {
  const dark = boundDark(GAP);

  test("ends between the slow and the fast end of what is known", () => {
    // The closed form; steps of a four-hundredth of the gap cost less than 0.01 K.
    expect(Math.abs(dark.uncooledC.low - twice(18, 6, 8, SLOW_SHARE))).toBeLessThan(0.01);
    expect(Math.abs(dark.uncooledC.high - twice(20, 6, 4, FAST_SHARE))).toBeLessThan(0.01);
    expect(dark.warmestC).toBe(dark.uncooledC.high);
    expect(dark.coldestC).toBe(3);
  });

  test("costs no more than the fast end of it does", () => {
    // By hand, ∫ of the closed form above 3.3 °C by Simpson's rule.
    const n = 6000;
    let above = 0;
    let reserve = 0;
    for (let i = 0; i <= n; i++) {
      const weight = i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2;
      const c = twice(20, (6 * i) / n, 4, FAST_SHARE);
      above += (weight * Math.max(0, c - 3.3) * 6) / n / 3;
      reserve += (weight * 2.5 ** ((c - 4) / 10) * 6) / n / 3 / 24;
    }
    expect(Math.abs(dark.degreeHoursAboveMost - above)).toBeLessThan(0.05);
    expect(Math.abs(dark.reserveDaysMost - reserve)).toBeLessThan(0.001);
    expect(dark.degreeHoursBelowMost).toBe(0);
  });

  test("in a shed below freezing cools the cocoons instead", () => {
    const shed = boundDark({ ...GAP, roomC: { low: -6, high: -4 } });
    expect(shed.warmestC).toBe(3);
    expect(Math.abs(shed.coldestC - twice(-6, 6, 4, FAST_SHARE))).toBeLessThan(0.01);
    expect(shed.degreeHoursBelowMost).toBeGreaterThan(5);
  });
});

test("a fridge that may have run may also have frozen them", () => {
  expect(boundDark({ ...GAP, mayHaveCooled: true }).coldestC).toBeLessThan(-5);
});

describe("cocoons seen again", () => {
  test("in their band cannot have been at room temperature minutes before", () => {
    const short = { ...GAP, gapMs: HOUR_MS, mayHaveCooled: true };
    const seen = boundDark({ ...short, afterC: 3 });
    expect(seen.warmestC).toBeLessThan(boundDark(short).warmestC);
    expect(seen.warmestC).toBeGreaterThan(3);
    expect(seen.reserveDaysMost).toBeLessThan(boundDark(short).reserveDaysMost);
  });

  test("warmer than a shut door explains may have been so all along", () => {
    const seen = boundDark({ ...GAP, afterC: 19 });
    // With the 0.3 K that a probe may be off.
    expect(seen.warmestC).toBeCloseTo(19.3, 9);
    // By hand: 16 K above the band for six hours.
    expect(seen.degreeHoursAboveMost).toBeCloseTo(96, 6);
  });
});

test("cocoons colder than anything explains do not bound how warm they were", () => {
  const seen = boundDark({ ...GAP, afterC: -3 });
  expect(seen.coldestC).toBeCloseTo(-3.3, 9);
  expect(seen.warmestC).toBe(boundDark(GAP).warmestC);
  expect(seen.reserveDaysMost).toBe(boundDark(GAP).reserveDaysMost);
});

test("cocoons that follow cold air slowly stay within the cost of the bound", () => {
  const lags = { low: 0.5 * HOUR_MS, high: 2 * HOUR_MS };
  const cold = { ...GAP, cocoonC: 5, airC: -6, roomC: { low: 6, high: 7 }, cocoonLagMs: lags };
  // By hand: air that stays at −6 °C draws them, with the slow lag, to −6 + 11·exp(−t/2 h); so
  // after half an hour they are at 2.6 °C and have burnt no less than at that all along.
  const dark = boundDark({ ...cold, gapMs: 0.5 * HOUR_MS });
  expect(dark.reserveDaysMost).toBeGreaterThan((2.5 ** ((2.6 - 4) / 10) * 0.5) / 24);
  expect(dark.warmestC).toBeGreaterThanOrEqual(5);
  // Nor less than if they had stayed as they were, which a slower box still would.
  expect(dark.reserveDaysMost).toBeGreaterThanOrEqual((2.5 ** 0.1 * 0.5) / 24 - 1e-9);
});

test("no gap at all bounds nothing beyond what was seen", () => {
  const none = boundDark({ ...GAP, gapMs: 0 });
  expect(none).toEqual({
    warmestC: 3,
    coldestC: 3,
    uncooledC: { low: 3, high: 3 },
    reserveDaysMost: 0,
    degreeHoursAboveMost: 0,
    degreeHoursBelowMost: 0,
  });
});

test("no course within the spans passes the bounds, whenever the power fails and comes back", () => {
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  const c = fc.double({ min: -2, max: 8, noNaN: true });
  fc.assert(
    fc.property(c, c, share, share, share, share, share, (cocoonC, airC, a, b, r, w, l) => {
      const gap = {
        ...GAP,
        cocoonC,
        airC,
        cocoonLagMs: { low: 0.5 * HOUR_MS, high: 2 * HOUR_MS },
        mayHaveCooled: true,
      };
      const roomC = 18 + 2 * r;
      const warmingMs = (4 + 4 * w) * HOUR_MS;
      const lagMs = (0.5 + 1.5 * l) * HOUR_MS;
      const offFrom = Math.min(a, b);
      const offTo = Math.max(a, b);
      let bodyC = cocoonC;
      let air = airC;
      let sum = beginExposure(0, cocoonC);
      let warmest = cocoonC;
      let coldest = cocoonC;
      let wasOff = false;
      for (let step = 0; step < 360; step++) {
        const isOff = step / 360 >= offFrom && step / 360 < offTo;
        const stepMs = gap.gapMs / 360;
        const towards = isOff ? roomC : -7.9;
        const lag = isOff ? warmingMs : HOUR_MS / 2;
        // Walls and load lead the air for the first minutes, a third of the way at most.
        if (isOff && !wasOff) air += (roomC - air) / 3;
        wasOff = isOff;
        const next = towards + (air - towards) * Math.exp(-stepMs / lag);
        bodyC = followLinear(bodyC, air, next, stepMs, lagMs);
        air = next;
        sum = addExposure(sum, (step + 1) * stepMs, bodyC, BAND, gap.gapMs);
        warmest = Math.max(warmest, bodyC);
        coldest = Math.min(coldest, bodyC);
      }
      const dark = boundDark({ ...gap, afterC: bodyC });
      expect(dark.warmestC).toBeGreaterThanOrEqual(warmest - 0.02);
      expect(dark.coldestC).toBeLessThanOrEqual(coldest + 0.02);
      expect(dark.reserveDaysMost).toBeGreaterThanOrEqual(sum.reserveDays - 1e-3);
      expect(dark.degreeHoursAboveMost).toBeGreaterThanOrEqual(sum.degreeHoursAbove - 0.05);
      expect(dark.degreeHoursBelowMost).toBeGreaterThanOrEqual(sum.degreeHoursBelow - 0.05);
    }),
    { seed: 43, numRuns: 1000 },
  );
});
