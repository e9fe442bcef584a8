/// <reference path="../../../reference/psychrolib.d.ts" />
import psychrolib from "psychrolib";
import { expect, test } from "vitest";
import { saturatedAtSurfaceGPerM3, saturatedOverWaterGPerM3, vapourGPerM3 } from "./saturation.js";

psychrolib.SetUnitSystem(psychrolib.SI);

/**
 * PsychroLib 2.5.0 (npm psychrolib 1.1.1), after ASHRAE Handbook – Fundamentals 2017, chapter 1:
 * over ice up to 0.01 °C, over water above. As a density by the ideal gas law; R/M of water is
 * 461.523 J/(kg·K) (CODATA 2018 and IAPWS R6-95).
 */
function outsideGPerM3(temperatureC: number): number {
  const pa = psychrolib.GetSatVapPres(temperatureC);
  return (1_000 * pa) / (461.523 * (temperatureC + 273.15));
}
const offPct = (a: number, b: number) => Math.abs(a / b - 1) * 100;

test("saturated air holds as much vapour as a published psychrometry says", () => {
  // Magnus' form differs from theirs by up to 0.29 % from 0 to 25 °C, its rounded constant for
  // density by 0.01 %, and a straight line over a tenth of a kelvin by 0.001 %.
  for (let c = 0.1; c <= 25; c += 0.37) {
    expect(offPct(saturatedOverWaterGPerM3(c), outsideGPerM3(c)), `${c} °C`).toBeLessThan(0.32);
    expect(saturatedAtSurfaceGPerM3(c)).toBe(saturatedOverWaterGPerM3(c));
  }
});

test("frost holds less in balance than water as cold, as much as published", () => {
  for (let c = -25; c <= -0.1; c += 0.37) {
    expect(offPct(saturatedAtSurfaceGPerM3(c), outsideGPerM3(c)), `${c} °C`).toBeLessThan(0.1);
    expect(saturatedAtSurfaceGPerM3(c)).toBeLessThan(saturatedOverWaterGPerM3(c));
  }
});

test("air of half the humidity holds half the vapour", () => {
  expect(vapourGPerM3(3, 50)).toBeCloseTo(0.5 * saturatedOverWaterGPerM3(3), 12);
});
