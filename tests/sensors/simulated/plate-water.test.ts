import { expect, test } from "vitest";
import { turnPlateWater } from "../../../sensors/simulated/plate-water.js";
import { BARE, dryChamber } from "./bare-fridge.js";

test("frost melts at 0 °C and takes its latent heat before the plate warms on", () => {
  // 100 g of ice from -10 °C: (2000 + 0.1 × 2100) J/K × 10 K = 22,100 J to reach 0 °C, then
  // 0.1 × 333,700 = 33,370 J to melt (latent heat of fusion at 0 °C, from memory).
  const frosted = () => ({ ...dryChamber(3), plateC: -10, plateIceKg: 0.1 });
  const halfway = frosted();
  turnPlateWater(halfway, BARE, 22_100 + 33_370 / 2, 1e-9);
  expect(halfway.plateC).toBeCloseTo(0, 9);
  expect(halfway.plateIceKg).toBeCloseTo(0.05, 9);
  expect(halfway.plateWaterKg).toBeCloseTo(0.05, 9);
  const beyond = frosted();
  turnPlateWater(beyond, BARE, 22_100 + 33_370 + 5_000, 1e-9);
  expect(beyond.plateIceKg).toBe(0);
  expect(beyond.plateC).toBeGreaterThan(1.5);
});

test("water left on the plate freezes and warms it to 0 °C while it does", () => {
  const wet = { ...dryChamber(3), plateC: 0.5, plateWaterKg: 0.01 };
  turnPlateWater(wet, BARE, -3_000, 1e-9);
  expect(wet.plateC).toBeCloseTo(0, 9);
  expect(wet.plateIceKg + wet.plateWaterKg).toBeCloseTo(0.01, 9);
  expect(wet.plateIceKg).toBeGreaterThan(0.004);
});

test("melt runs off, but for what clings", () => {
  const wet = { ...dryChamber(3), plateWaterKg: 0.2 };
  for (let i = 0; i < 400; i++) turnPlateWater(wet, BARE, 0, 5);
  expect(wet.plateWaterKg).toBeCloseTo(0.012, 3);
});
