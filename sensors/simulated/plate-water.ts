import type { Chamber } from "./chamber.js";
import type { Fridge } from "./fridge.js";
import { FUSION_J_PER_KG, ICE_J_PER_KG_K, WATER_J_PER_KG_K } from "./moist-air.js";

/** Water that clings to the plate when the rest has run off, kg; our estimate. */
const CLINGING_KG = 0.012;
/** How fast melt runs off to the drain, s; our estimate. */
const DRAIN_S = 150;

/**
 * Give the plate, with the ice and water on it, `heatJ` of heat: it warms or cools, ice melts
 * at 0 °C, water freezes at 0 °C, and what the plate cannot hold runs off.
 */
export function turnPlateWater(
  chamber: Chamber,
  fridge: Fridge,
  heatJ: number,
  stepS: number,
): void {
  const capacityJPerK =
    fridge.plateJPerK +
    ICE_J_PER_KG_K * chamber.plateIceKg +
    WATER_J_PER_KG_K * chamber.plateWaterKg;
  let plateC = chamber.plateC + heatJ / capacityJPerK;
  if (plateC > 0 && chamber.plateIceKg > 0) {
    const meltedKg = Math.min(chamber.plateIceKg, (plateC * capacityJPerK) / FUSION_J_PER_KG);
    chamber.plateIceKg -= meltedKg;
    chamber.plateWaterKg += meltedKg;
    plateC -= (meltedKg * FUSION_J_PER_KG) / capacityJPerK;
  } else if (plateC < 0 && chamber.plateWaterKg > 0) {
    const frozenKg = Math.min(chamber.plateWaterKg, (-plateC * capacityJPerK) / FUSION_J_PER_KG);
    chamber.plateWaterKg -= frozenKg;
    chamber.plateIceKg += frozenKg;
    plateC += (frozenKg * FUSION_J_PER_KG) / capacityJPerK;
  }
  chamber.plateC = plateC;
  const surplusKg = chamber.plateWaterKg - CLINGING_KG;
  if (surplusKg > 0) chamber.plateWaterKg -= surplusKg * Math.min(1, stepS / DRAIN_S);
}
