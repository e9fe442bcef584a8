import { expect, test } from "vitest";
import { warmUpToDewPointMin } from "../../rules/condensation.js";
import { dewPointC } from "../../rules/humid-air.js";
import { followLinear } from "../../rules/lag.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const LAG = { low: HOUR_MS, high: HOUR_MS };

test("a box at 4 °C must warm to 9.3 °C in a room of 20 °C and 50 %", () => {
  const warmUp = warmUpToDewPointMin(4, 20, 50, LAG)!;
  // Dew point of 20 °C and 50 %: 9.3 °C (psychrometric chart; 9.27 by ASHRAE's formula).
  expect(Math.abs(warmUp.dewPointC - 9.27)).toBeLessThan(0.03);
  // By hand: ln((20 − 4)/(20 − 9.27)) = 0.400 lags, 24 min at an hour each, and 36 for a shut box.
  expect(Math.abs(warmUp.spanMin.low - 24)).toBeLessThan(0.2);
  expect(Math.abs(warmUp.spanMin.high - 36)).toBeLessThan(0.3);
  expect(warmUp.aboutMin).toBeGreaterThan(warmUp.spanMin.low);
  expect(warmUp.aboutMin).toBeLessThan(warmUp.spanMin.high);
});

test("at the time told, the box has just come to the dew point", () => {
  const { spanMin } = warmUpToDewPointMin(2, 22, 45, { low: HOUR_MS, high: 3 * HOUR_MS })!;
  const reachedC = followLinear(2, 22, 22, spanMin.low * MINUTE_MS, HOUR_MS);
  expect(reachedC).toBeCloseTo(dewPointC(22, 45), 9);
});

test("a dry room asks for no waiting", () => {
  // 20 °C and 30 % has its dew point at 1.9 °C (IAPWS).
  expect(warmUpToDewPointMin(3, 20, 30, LAG)!.spanMin).toEqual({ low: 0, high: 0 });
  expect(warmUpToDewPointMin(3, 20, 30, LAG)!.aboutMin).toBe(0);
});

test("in a saturated room a cold box gets wet however long it waits", () => {
  expect(warmUpToDewPointMin(3, 20, 100, LAG)).toBeNull();
});

test("a room colder than the box wets nothing", () => {
  expect(warmUpToDewPointMin(3, 1, 100, LAG)!.aboutMin).toBe(0);
});

test("an impossible room is refused", () => {
  expect(() => warmUpToDewPointMin(3, 20, 0, LAG)).toThrow(RangeError);
  expect(() => warmUpToDewPointMin(3, 90, 50, LAG)).toThrow(RangeError);
});
