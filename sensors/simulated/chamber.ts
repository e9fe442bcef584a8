import { doorFlowM3PerS } from "./door.js";
import type { Fridge } from "./fridge.js";
import { AIR_J_PER_M3_K, vapourDensity } from "./moist-air.js";
import { turnPlateWater } from "./plate-water.js";
import type { RoomState } from "./room.js";
import { turnVapour } from "./vapour.js";

/**
 * The inside of a fridge: what the model remembers. Changed in place, since a winter is three
 * million steps. Temperatures °C, masses kg, densities kg/m³.
 */
export type Chamber = {
  airC: number;
  wallC: number;
  plateC: number;
  foodC: number;
  boxC: number;
  cocoonC: number;
  /** 0 to 1: how much of the compressor's cooling has built up. */
  cooling: number;
  airVapour: number;
  boxVapour: number;
  /** Humidity, 0 to 1, that paper and cocoons are in balance with. */
  boxStore: number;
  plateIceKg: number;
  plateWaterKg: number;
  wallWaterKg: number;
};

/** What acts on a chamber during a step. */
export type Forcing = {
  doorShare: number;
  /** The compressor is running and healthy. */
  compressorOn: boolean;
  heaterOn: boolean;
};

/** A chamber at rest at `airC`, moderately damp, its box at `boxHumidityPct`. */
export function beginChamber(airC: number, boxHumidityPct: number): Chamber {
  const full = vapourDensity(611.2, 0);
  return {
    airC,
    wallC: airC + 0.01,
    plateC: airC - 4.01,
    foodC: airC + 0.01,
    boxC: airC + 0.01,
    cocoonC: airC + 0.01,
    cooling: 0.001,
    airVapour: 0.7 * full,
    boxVapour: (boxHumidityPct / 100) * full,
    boxStore: boxHumidityPct / 100,
    plateIceKg: 0.0201,
    plateWaterKg: 0.0101,
    wallWaterKg: 0.0001,
  };
}

/** Off-state ratio of ramp-down to ramp-up of cooling: pressures even out faster; our choice. */
const RAMP_DOWN_SHARE = 0.5;
/** Loss of cooling power for each K the room is above 20 °C; our estimate. */
const WARM_ROOM_LOSS_PER_K = 0.008;

/**
 * Move a chamber on by `stepS` seconds, with what acts on it held constant.
 *
 * Air is light and quick, so it is solved exactly against its neighbours (Newton's law of
 * cooling, a weighted mean of what surrounds it), and its mean over the step is what the
 * neighbours exchange heat with: energy is kept to rounding, and the step is stable at any
 * length for air. Wall, plate, food, box and cocoons take explicit steps; the shortest of their
 * time constants is about a minute, so steps of 1 to 10 s are stable.
 */
export function stepChamber(
  chamber: Chamber,
  fridge: Fridge,
  room: RoomState,
  forcing: Forcing,
  stepS: number,
): void {
  const { airC, wallC, plateC, foodC, boxC, cocoonC } = chamber;
  const doorFlow = doorFlowM3PerS(fridge, forcing.doorShare, airC, room.temperatureC);
  const viaDoor = doorFlow * AIR_J_PER_M3_K;
  const viaWall = fridge.airWallWPerK;
  const viaFood = fridge.airFoodWPerK;
  const viaPlate = forcing.compressorOn ? fridge.airPlateOnWPerK : fridge.airPlateOffWPerK;
  const viaBox = fridge.box.shellJPerK / fridge.box.shellLagS;
  const viaCocoons = fridge.box.cocoonJPerK / fridge.box.cocoonLagS;
  const heaterAirW = forcing.heaterOn ? (fridge.defrost?.airW ?? 0) : 0;
  const heaterPlateW = forcing.heaterOn ? (fridge.defrost?.heaterW ?? 0) : 0;

  const sum = viaDoor + viaWall + viaFood + viaPlate + viaBox;
  const towardsC =
    (viaDoor * room.temperatureC +
      viaWall * wallC +
      viaFood * foodC +
      viaPlate * plateC +
      viaBox * boxC +
      heaterAirW) /
    sum;
  const steps = (sum * stepS) / fridge.airJPerK;
  const kept = Math.exp(-steps);
  const meanC = towardsC + ((airC - towardsC) * (1 - kept)) / steps;
  chamber.airC = towardsC + (airC - towardsC) * kept;

  const coolingW = turnCooling(chamber, fridge, room, forcing.compressorOn, stepS);
  const fromWall = fridge.wallPlateWPerK * (wallC - plateC);
  const intoPlateW = viaPlate * (meanC - plateC) + fromWall + heaterPlateW - coolingW;
  const fromRoom = fridge.roomWallWPerK * (room.temperatureC - wallC);
  const intoWallW = fromRoom + viaWall * (meanC - wallC) - fromWall;
  const intoBoxW = viaBox * (meanC - boxC) - viaCocoons * (boxC - cocoonC);
  chamber.wallC += (intoWallW * stepS) / fridge.wallJPerK;
  chamber.foodC += (viaFood * (meanC - foodC) * stepS) / fridge.foodJPerK;
  chamber.boxC += (intoBoxW * stepS) / fridge.box.shellJPerK;
  chamber.cocoonC += (viaCocoons * (boxC - cocoonC) * stepS) / fridge.box.cocoonJPerK;
  turnPlateWater(chamber, fridge, intoPlateW * stepS, stepS);
  turnVapour(chamber, fridge, room, doorFlow, viaPlate, stepS);
}

/** Let cooling build up or die away, and return what it takes from the plate, W. */
function turnCooling(
  chamber: Chamber,
  fridge: Fridge,
  room: RoomState,
  on: boolean,
  stepS: number,
): number {
  const rampS = fridge.coolingRampS * (on ? 1 : RAMP_DOWN_SHARE);
  chamber.cooling += ((on ? 1 : 0) - chamber.cooling) * Math.min(1, stepS / rampS);
  const warmRoom = 1 - WARM_ROOM_LOSS_PER_K * (room.temperatureC - 20);
  const liftK = Math.max(0, chamber.plateC - fridge.coolingFloorC);
  return chamber.cooling * warmRoom * fridge.coolingWPerK * liftK;
}
