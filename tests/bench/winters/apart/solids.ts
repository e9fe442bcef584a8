import { STORES_LOWER, STORES_UPPER } from "./air.js";
import type { Cooling } from "./cabinet.js";
import { airOf, type Bodies, type Chamber } from "./chamber.js";
import { within } from "./chance.js";
import { FRESH_LEAST_J_PER_K, type Paths } from "./paths.js";
import type { WaterMoved } from "./vapour.js";

/** Heat of vaporisation, sublimation and fusion of water at 0 °C, J/g; from memory. */
const VAPORISATION_J_PER_G = 2_500;
const SUBLIMATION_J_PER_G = 2_830;
const FUSION_J_PER_G = 334;
/** What passes between solid things, and from shelves to the room past an open door; our choice. */
const SHELF_TO_LINER_W_PER_K = 0.8;
const SHELF_TO_ROOM_W_PER_K = 1.2;
const PLATE_TO_LINER_W_PER_K = 0.15;
/** Of what melts off the plate, so much ends up on shelves instead of in the drain; our choice. */
const MELT_TO_SHELVES = 0.01;
/** Fresh food counts to the stores after about eight hours; our choice. */
const FRESH_LASTS_S = 8 * 3_600;
/** A compressor moves more heat off a warmer plate, by this power of e a kelvin; our choice. */
const COOLING_PER_K = 0.028;

/** Heat that the plate loses to the compressor, W. */
export function coolingW(cooling: Cooling, { plateC, coolingShare }: Chamber): number {
  const warmer = Math.exp(COOLING_PER_K * (plateC - cooling.plateRunsAtC));
  return coolingShare * cooling.coolingW * within(warmer, 0.25, 2);
}

/** Move everything but the air on, by the air as it is now; explicit Euler steps. */
export function turnBodies(
  chamber: Chamber,
  bodies: Bodies,
  paths: Paths,
  water: WaterMoved,
  outsideC: number,
  stepS: number,
): void {
  const airC = airOf(chamber);
  turnLiners(chamber, bodies, paths, water, outsideC, stepS);
  const { doorWPerK, doorLeakWPerK, doorOutWPerK, shelvesWPerK, storesWPerK, freshWPerK } = paths;
  chamber.doorC +=
    (stepS / bodies.doorJPerK) *
    (doorWPerK * (airC - chamber.doorC) +
      (doorLeakWPerK + doorOutWPerK) * (outsideC - chamber.doorC));
  const { upperC, lowerC, upperLinerC, lowerLinerC, shelvesC, storesC } = chamber;
  chamber.shelvesC +=
    (stepS / bodies.shelvesJPerK) *
    (shelvesWPerK * (upperC + lowerC - 2 * shelvesC) +
      SHELF_TO_LINER_W_PER_K * (upperLinerC + lowerLinerC - 2 * shelvesC) +
      VAPORISATION_J_PER_G * water.toShelvesGPerS +
      SHELF_TO_ROOM_W_PER_K * paths.openShare * (outsideC - shelvesC));
  chamber.storesC +=
    (stepS / bodies.storesJPerK) *
    (storesWPerK * (STORES_UPPER * (upperC - storesC) + STORES_LOWER * (lowerC - storesC)) -
      VAPORISATION_J_PER_G * water.fromStoresGPerS);
  chamber.cocoonC += (stepS / bodies.cocoonJPerK) * bodies.cocoonWPerK * (airC - chamber.cocoonC);
  if (freshWPerK > 0)
    chamber.freshC += (stepS / chamber.freshJPerK) * freshWPerK * (upperC - chamber.freshC);
}

function turnLiners(
  chamber: Chamber,
  { linerJPerK }: Bodies,
  { linerWPerK, linerLeakWPerK }: Paths,
  { toUpperLinerGPerS, toLowerLinerGPerS }: WaterMoved,
  outsideC: number,
  stepS: number,
): void {
  const { shelvesC } = chamber;
  const heats = (airC: number, linerC: number, filmGPerS: number): number =>
    linerWPerK * (airC - linerC) +
    linerLeakWPerK * (outsideC - linerC) +
    SHELF_TO_LINER_W_PER_K * (shelvesC - linerC) +
    VAPORISATION_J_PER_G * filmGPerS;
  const perJ = stepS / linerJPerK;
  const { upperC, lowerC, upperLinerC, lowerLinerC } = chamber;
  chamber.upperLinerC += perJ * heats(upperC, upperLinerC, toUpperLinerGPerS);
  chamber.lowerLinerC += perJ * heats(lowerC, lowerLinerC, toLowerLinerGPerS);
}

/** Move the plate on: `cooledW` is taken from it, the heater warms it, frost melts above 0 °C. */
export function turnPlate(
  chamber: Chamber,
  { plateJPerK }: Bodies,
  { plateUpperWPerK, plateLowerWPerK }: Paths,
  { toPlateGPerS }: WaterMoved,
  heatedW: number,
  stepS: number,
): void {
  const { plateC, upperC, lowerC, lowerLinerC } = chamber;
  chamber.plateC +=
    (stepS / plateJPerK) *
    (plateUpperWPerK * (upperC - plateC) +
      plateLowerWPerK * (lowerC - plateC) +
      heatedW +
      SUBLIMATION_J_PER_G * toPlateGPerS +
      PLATE_TO_LINER_W_PER_K * (lowerLinerC - plateC));
  if (chamber.plateC <= 0 || chamber.frostG <= 0) return;
  const meltG = Math.min(chamber.frostG, (plateJPerK * chamber.plateC) / FUSION_J_PER_G);
  chamber.plateC -= (meltG * FUSION_J_PER_G) / plateJPerK;
  chamber.frostG -= meltG;
  chamber.shelvesFilmG += MELT_TO_SHELVES * meltG;
}

/** Fresh food is taken out again, or counts to the stores. */
export function ageFresh(chamber: Chamber, stepS: number): void {
  if (chamber.freshJPerK <= FRESH_LEAST_J_PER_K) return;
  chamber.freshJPerK = 1 + (chamber.freshJPerK - 1) * Math.exp(-stepS / FRESH_LASTS_S);
}
