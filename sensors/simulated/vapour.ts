import type { Chamber } from "./chamber.js";
import type { Fridge } from "./fridge.js";
import {
  AIR_J_PER_M3_K,
  LEWIS_FACTOR,
  relativeHumidityPct,
  surfaceDensity,
  VAPORISATION_J_PER_KG,
} from "./moist-air.js";
import type { RoomState } from "./room.js";

/** Water film at which a surface counts as wet all over, kg; our estimate. */
const FULL_FILM_KG = 0.01;
/** So that even a bone-dry fridge with no way in divides by something, m³/s. */
const LEAST_FLOW_M3_PER_S = 1e-12;
/** Days that paper and cocoons take to follow the humidity around them; our estimate. */
const STORE_S = 2 * 86_400;
/** Vapour pressure above moist food, as a share of pure water's; from memory (salads, fruit). */
const FOOD_ACTIVITY = 0.97;

/**
 * Move the vapour of air and box on by one step.
 *
 * Each cold surface exchanges vapour with the air as it does heat (Lewis relation): it takes up
 * dew or frost when the air is damper than the surface, and gives back what it holds when drier.
 * Air is solved exactly against its neighbours, as its heat is, and surfaces are charged with
 * the mean over the step, so that no water is made or lost.
 */
export function turnVapour(
  chamber: Chamber,
  fridge: Fridge,
  room: RoomState,
  doorFlowM3PerS: number,
  plateWPerK: number,
  stepS: number,
): void {
  const heatToVapour = 1 / (AIR_J_PER_M3_K * LEWIS_FACTOR);
  const air = chamber.airVapour;
  const { plateC, wallC, foodC, boxC } = chamber;
  const plateFull = surfaceDensity(plateC);
  const wallFull = surfaceDensity(wallC);
  const onPlateKg = chamber.plateIceKg + chamber.plateWaterKg;
  const plateWet = air > plateFull ? 1 : Math.min(1, onPlateKg / FULL_FILM_KG);
  const wallWet = air > wallFull ? 1 : Math.min(1, chamber.wallWaterKg / FULL_FILM_KG);

  const viaPlate = plateWPerK * heatToVapour * plateWet;
  const viaWall = fridge.airWallWPerK * heatToVapour * wallWet;
  const viaFood = fridge.airFoodWPerK * heatToVapour * fridge.wetShare;
  const viaBox = fridge.box.volumeM3 / fridge.box.ventLagS;
  const foodFull = FOOD_ACTIVITY * surfaceDensity(foodC);
  const sum = LEAST_FLOW_M3_PER_S + doorFlowM3PerS + viaPlate + viaWall + viaFood + viaBox;
  const towards =
    (doorFlowM3PerS * room.vapourKgPerM3 +
      viaPlate * plateFull +
      viaWall * wallFull +
      viaFood * foodFull +
      viaBox * chamber.boxVapour) /
    sum;
  const steps = (sum * stepS) / fridge.volumeM3;
  const kept = Math.exp(-steps);
  const mean = towards + ((air - towards) * (1 - kept)) / steps;
  chamber.airVapour = towards + (air - towards) * kept;

  const ontoPlateKg = Math.max(-onPlateKg, viaPlate * (mean - plateFull) * stepS);
  if (plateC < 0 || ontoPlateKg < -chamber.plateWaterKg) chamber.plateIceKg += ontoPlateKg;
  else chamber.plateWaterKg += ontoPlateKg;
  chamber.plateC += (ontoPlateKg * VAPORISATION_J_PER_KG) / fridge.plateJPerK;
  const ontoWallKg = Math.max(-chamber.wallWaterKg, viaWall * (mean - wallFull) * stepS);
  chamber.wallWaterKg += ontoWallKg;
  chamber.wallC += (ontoWallKg * VAPORISATION_J_PER_KG) / fridge.wallJPerK;

  turnBoxVapour(chamber, fridge, mean, boxC, stepS);
}

function turnBoxVapour(
  chamber: Chamber,
  fridge: Fridge,
  airMean: number,
  boxC: number,
  stepS: number,
): void {
  const full = surfaceDensity(boxC);
  const { ventLagS, sorptionLagS } = fridge.box;
  const rate = 1 / ventLagS + 1 / sorptionLagS;
  const towards = (airMean / ventLagS + (chamber.boxStore * full) / sorptionLagS) / rate;
  chamber.boxVapour = towards + (chamber.boxVapour - towards) * Math.exp(-rate * stepS);
  const around = Math.min(1, relativeHumidityPct(chamber.boxVapour, boxC) / 100);
  chamber.boxStore += ((around - chamber.boxStore) * stepS) / STORE_S;
}
