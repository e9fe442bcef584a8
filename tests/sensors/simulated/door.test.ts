import { expect, test } from "vitest";
import { doorFlowM3PerS } from "../../../sensors/simulated/door.js";
import { BARE } from "./bare-fridge.js";

test("an open door exchanges what the buoyancy formula says", () => {
  // (C/3)·W·√(g·H³·ΔT/T) with C 0.3, W 0.5 m, H 0.7 m, 2 and 20 °C, by hand:
  // √(9.81 × 0.343 × 18 / 284.15) = 0.46169; × 0.05 = 0.023084 m³/s. 2 l/s are stirred in.
  expect(doorFlowM3PerS(BARE, 1, 2, 20)).toBeCloseTo(0.023084 + 0.002, 5);
});

test("a shut door lets through what seeps past its seal and no more", () => {
  expect(doorFlowM3PerS({ ...BARE, seepM3PerS: 0.0001 }, 0, 2, 20)).toBe(0.0001);
});

test("half as far open exchanges half as much", () => {
  expect(doorFlowM3PerS(BARE, 0.5, 2, 20)).toBeCloseTo(doorFlowM3PerS(BARE, 1, 2, 20) / 2, 12);
});
