import type { Chamber } from "../../../sensors/simulated/chamber.js";
import { beginChamber, stepChamber } from "../../../sensors/simulated/chamber.js";
import type { Fridge } from "../../../sensors/simulated/fridge.js";
import type { RoomState } from "../../../sensors/simulated/room.js";

/** A fridge of round numbers that closed forms are easy for: tight, dry, no defrost. */
export const BARE: Fridge = {
  name: "bare",
  volumeM3: 0.15,
  doorWidthM: 0.5,
  doorHeightM: 0.7,
  dischargeShare: 0.3,
  seepM3PerS: 0,
  airJPerK: 300,
  wallJPerK: 8_000,
  plateJPerK: 2_000,
  foodJPerK: 20_000,
  roomWallWPerK: 1,
  airWallWPerK: 10,
  airFoodWPerK: 5,
  airPlateOnWPerK: 8,
  airPlateOffWPerK: 8,
  wallPlateWPerK: 0,
  coolingWPerK: 4,
  coolingFloorC: -22,
  coolingRampS: 60,
  wetShare: 0,
  thermostat: { senses: "air", lagS: 60, dialC: 2, hysteresisK: 2, minOffS: 240 },
  defrost: null,
  box: {
    shellLagS: 600,
    cocoonLagS: 2_400,
    shellJPerK: 300,
    cocoonJPerK: 600,
    volumeM3: 0,
    ventLagS: 1_200,
    sorptionLagS: 2_400,
  },
  room: { meanC: 20, dailyK: 0, weatherK: 0, humidityPct: 50, humidityWeatherPct: 0 },
  openingsPerDay: 0,
  ajarShare: { low: 0.15, high: 1 },
  probeLagS: 90,
  probeWallShare: 0,
};

/** A room of 20 °C without a trace of vapour. */
export const DRY_ROOM: RoomState = {
  temperatureC: 20,
  vapourKgPerM3: 0,
  weather: 0,
  dampness: 0,
};

/** A chamber all at one temperature and bone dry. */
export function dryChamber(temperatureC: number): Chamber {
  return {
    ...beginChamber(temperatureC, 0),
    wallC: temperatureC,
    plateC: temperatureC,
    foodC: temperatureC,
    boxC: temperatureC,
    cocoonC: temperatureC,
    cooling: 0,
    airVapour: 0,
    boxVapour: 0,
    plateIceKg: 0,
    plateWaterKg: 0,
    wallWaterKg: 0,
  };
}

/** Step a chamber with the same things acting on it all the while. */
export function runChamber(
  chamber: Chamber,
  fridge: Fridge,
  seconds: number,
  acting: Partial<{ doorShare: number; compressorOn: boolean; heaterOn: boolean }>,
  room = DRY_ROOM,
  stepS = 5,
): Chamber {
  const forcing = { doorShare: 0, compressorOn: false, heaterOn: false, ...acting };
  for (let s = 0; s < seconds; s += stepS) stepChamber(chamber, fridge, room, forcing, stepS);
  return chamber;
}

/** Heat held by everything in a dry chamber, J, counted from 0 °C. */
export function heatOf(chamber: Chamber, fridge: Fridge): number {
  return (
    fridge.airJPerK * chamber.airC +
    fridge.wallJPerK * chamber.wallC +
    fridge.plateJPerK * chamber.plateC +
    fridge.foodJPerK * chamber.foodC +
    fridge.box.shellJPerK * chamber.boxC +
    fridge.box.cocoonJPerK * chamber.cocoonC
  );
}
