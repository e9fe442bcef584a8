import type { Fridge } from "./fridge.js";
import type { Outside } from "./room.js";

/**
 * The inside of a fridge: air in two layers, and what it touches. Changed in place, since a
 * winter is three million steps. A film is what has condensed on a surface.
 */
export type Chamber = {
  upperC: number;
  lowerC: number;
  upperLinerC: number;
  lowerLinerC: number;
  doorC: number;
  shelvesC: number;
  storesC: number;
  cocoonC: number;
  plateC: number;
  /** What was put in warm and has not cooled down yet. */
  freshC: number;
  freshJPerK: number;
  upperGPerM3: number;
  lowerGPerM3: number;
  frostG: number;
  upperFilmG: number;
  lowerFilmG: number;
  shelvesFilmG: number;
  /** Humidity, 0 to 1, that the cocoons are in balance with. */
  cocoonHumidityShare: number;
  /** 0 to 1: how much of the compressor's cooling has built up. */
  coolingShare: number;
  /** 0 to 1: how fast the fan turns; it runs down after the compressor. */
  fanShare: number;
};

/** What acts on a chamber during a step. */
export type Forcing = Readonly<{
  gapMm: number;
  compressorRuns: boolean;
  heaterW: number;
  /** Strength of the draught that the fan makes now, up to the cabinet's `fanStrength`. */
  fanDraught: number;
  lampW: number;
}>;

/** Heat capacities, J/K, and volumes, m³, that do not change in a winter. */
export type Bodies = Readonly<{
  layerM3: number;
  layerJPerK: number;
  linerJPerK: number;
  doorJPerK: number;
  shelvesJPerK: number;
  storesJPerK: number;
  cocoonJPerK: number;
  cocoonWPerK: number;
  plateJPerK: number;
}>;

/** Heat held by a cubic metre of air, J/(m³·K): 1.27 kg/m³ at 3 °C times 1,006; from memory. */
export const AIR_J_PER_M3_K = 1_278;
/** Specific heat of moist food, J/(kg·K): a mean of tables, from memory. */
const FOOD_J_PER_KG_K = 3_600;
const J_PER_KJ = 1_000;
const S_PER_H = 3_600;
/** Of the cabinet's lining, each half of the walls and the door; a door is heavier. Our choice. */
const LINER_SHARE = 0.4;
const DOOR_SHARE = 0.2;
const DOOR_WEIGHT = 1.4;

/** What this fridge's walls, contents and air hold. */
export function bodiesOf({ cabinet, contents, cooling }: Fridge): Bodies {
  const layerM3 = (cabinet.volumeL / 1_000) * 0.5;
  const linerJPerK = cabinet.linerKJPerK * J_PER_KJ;
  const cocoonJPerK = contents.cocoonKJPerK * J_PER_KJ;
  return {
    layerM3,
    layerJPerK: layerM3 * AIR_J_PER_M3_K,
    linerJPerK: linerJPerK * LINER_SHARE,
    doorJPerK: linerJPerK * DOOR_SHARE * DOOR_WEIGHT,
    shelvesJPerK: contents.shelvesKJPerK * J_PER_KJ,
    storesJPerK: contents.storesKg * FOOD_J_PER_KG_K,
    cocoonJPerK,
    cocoonWPerK: cocoonJPerK / (contents.cocoonLagH * S_PER_H),
    plateJPerK: cooling.plateKJPerK * J_PER_KJ,
  };
}

/** A chamber near its usual warmth, with some frost on its plate; our choice. */
export function beginChamber(): Chamber {
  return {
    upperC: 2.5,
    lowerC: 2,
    upperLinerC: 3,
    lowerLinerC: 2.5,
    doorC: 3,
    shelvesC: 2.2,
    storesC: 2,
    cocoonC: 2,
    plateC: 0,
    freshC: 5,
    freshJPerK: 1,
    upperGPerM3: 4,
    lowerGPerM3: 4,
    frostG: 60,
    upperFilmG: 0,
    lowerFilmG: 0,
    shelvesFilmG: 0,
    cocoonHumidityShare: 0.65,
    coolingShare: 0,
    fanShare: 0,
  };
}

/** The air's mean over both layers. */
export function airOf({ upperC, lowerC }: Chamber): number {
  return 0.5 * (upperC + lowerC);
}

/** A door pulled open draws in room air for `share` of the upper layer, and half as much below. */
export function flushAir(chamber: Chamber, outside: Outside, share: number): void {
  const { temperatureC, vapourGPerM3 } = outside;
  chamber.upperC += share * (temperatureC - chamber.upperC);
  chamber.lowerC += 0.5 * share * (temperatureC - chamber.lowerC);
  chamber.upperGPerM3 += share * (vapourGPerM3 - chamber.upperGPerM3);
  chamber.lowerGPerM3 += 0.5 * share * (vapourGPerM3 - chamber.lowerGPerM3);
}

/** Put in so much food of this warmth, beside what is still warm of earlier food. */
export function putIn(chamber: Chamber, foodKg: number, foodC: number): void {
  const addedJPerK = foodKg * FOOD_J_PER_KG_K;
  const { freshC, freshJPerK } = chamber;
  chamber.freshC = (freshC * freshJPerK + foodC * addedJPerK) / (freshJPerK + addedJPerK);
  chamber.freshJPerK = freshJPerK + addedJPerK;
}
