import { expect, test } from "vitest";
import type { Chamber } from "../../../sensors/simulated/chamber.js";
import {
  relativeHumidityPct,
  saturationOverWaterPa,
  vapourDensity,
} from "../../../sensors/simulated/moist-air.js";
import { BARE, DRY_ROOM, dryChamber, runChamber } from "./bare-fridge.js";

const DAMP_ROOM = {
  ...DRY_ROOM,
  vapourKgPerM3: 0.5 * vapourDensity(saturationOverWaterPa(20), 20),
};

function waterKg(chamber: Chamber): number {
  const inAirKg = BARE.volumeM3 * chamber.airVapour;
  return inAirKg + chamber.plateIceKg + chamber.plateWaterKg + chamber.wallWaterKg;
}

test("shut in, water moves between air, plate and wall, and none is made or lost", () => {
  // The plate is frozen, so that nothing runs off to the drain.
  const damp = { airVapour: 0.007, plateC: -5, plateIceKg: 0.2, wallWaterKg: 0.05 };
  const chamber = { ...dryChamber(6), ...damp };
  const before = waterKg(chamber);
  runChamber(chamber, BARE, 3_600, { compressorOn: true });
  expect(chamber.plateIceKg).toBeGreaterThan(0.2);
  expect(Math.abs(waterKg(chamber) / before - 1)).toBeLessThan(1e-9);
});

test("a wet plate in a fridge all of one temperature brings its air to saturation", () => {
  const even = { ...DRY_ROOM, temperatureC: 3 };
  const chamber = { ...dryChamber(3), plateWaterKg: 0.012 };
  runChamber(chamber, BARE, 12 * 3_600, {}, even);
  // Evaporation cools the plate a little, so it comes to just under 100 %.
  const humidityPct = relativeHumidityPct(chamber.airVapour, chamber.airC);
  expect(humidityPct).toBeGreaterThan(98);
  expect(humidityPct).toBeLessThanOrEqual(100.01);
});

test("a plate colder than the dew point dries the air and grows frost", () => {
  const chamber = { ...dryChamber(3), airVapour: 0.005, plateC: -12 };
  runChamber(chamber, BARE, 1_200, { compressorOn: true });
  expect(chamber.plateIceKg).toBeGreaterThan(0.0003);
  expect(relativeHumidityPct(chamber.airVapour, chamber.airC)).toBeLessThan(60);
});

test("an open door makes a fridge damp at once, and frost shows where it went", () => {
  const chamber = runChamber(dryChamber(3), BARE, 3_600, { compressorOn: true });
  const shutPct = relativeHumidityPct(chamber.airVapour, chamber.airC);
  runChamber(chamber, BARE, 30, { compressorOn: true, doorShare: 1 }, DAMP_ROOM);
  expect(relativeHumidityPct(chamber.airVapour, chamber.airC)).toBeGreaterThan(shutPct + 30);
  runChamber(chamber, BARE, 1_800, { compressorOn: true }, DAMP_ROOM);
  expect(chamber.plateIceKg + chamber.plateWaterKg).toBeGreaterThan(0.0003);
});
