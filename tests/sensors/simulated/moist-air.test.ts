import { expect, test } from "vitest";
import {
  relativeHumidityPct,
  saturationOverIcePa,
  saturationOverWaterPa,
  surfaceDensity,
  vapourDensity,
} from "../../../sensors/simulated/moist-air.js";

// Tolerances: the Magnus form of WMO-No. 8 is within 0.12 % of IAPWS from 0 to 5 °C and within
// 0.3 % over water from -20 to 20 °C.

test("saturation over water agrees with the steam-table standard near 0 °C and at 2 °C", () => {
  // IAPWS SR1-86: 611.657 Pa at the triple point, 273.16 K.
  expect(Math.abs(saturationOverWaterPa(0.01) / 611.657 - 1)).toBeLessThan(0.0012);
  // ITS-90 formulation for vapour pressure over water at 2 °C: 705.973 Pa.
  expect(Math.abs(saturationOverWaterPa(2) / 705.973 - 1)).toBeLessThan(0.0012);
});

test("saturation over ice agrees with the sublimation-pressure standard", () => {
  // IAPWS R14-08: 103.239 Pa at -20 °C and 8.94735 Pa at 230 K.
  expect(Math.abs(saturationOverIcePa(-20) / 103.239 - 1)).toBeLessThan(0.003);
  expect(Math.abs(saturationOverIcePa(230 - 273.15) / 8.94735 - 1)).toBeLessThan(0.01);
});

test("air in balance with ice at -20 °C reads 82.2 % over water", () => {
  // Ratio of IAPWS saturation pressures, 103.239 Pa over ice to 125.604 Pa over water.
  expect(relativeHumidityPct(surfaceDensity(-20), -20)).toBeCloseTo(82.2, 0);
});

test("saturated air at 20 °C holds 17.3 g of vapour in a cubic metre", () => {
  // 17.3 g/m³: common tables of absolute humidity, from memory; rounded, and Magnus is 0.3 % low.
  const density = vapourDensity(saturationOverWaterPa(20), 20);
  expect(Math.abs(density * 1_000 - 17.3)).toBeLessThan(0.1);
});
