import type { Bodies, Chamber, Forcing } from "./chamber.js";
import type { Fridge } from "./fridge.js";
import type { Paths } from "./paths.js";

/** Stores lie low: so much of half their surface is in the upper layer; our choice. */
export const STORES_UPPER = 0.6;
/** And so much in the lower. */
export const STORES_LOWER = 2 - STORES_UPPER;
/** Of a lamp's power what warms the upper layer, and what a full fan's motor gives; our choice. */
const LAMP_SHARE = 0.6;
const FAN_W = 2;

/** What powers the air itself: the fan's motor and the lamp, in the upper layer. */
export function powerInAirW(
  { cabinet }: Fridge,
  { fanShare }: Chamber,
  { lampW }: Forcing,
): number {
  return lampW * LAMP_SHARE + cabinet.fanStrength * fanShare * FAN_W;
}

/**
 * A layer of air and what it touches, but for the other layer and the room: what it loses a kelvin
 * above 0 °C, and what it gains.
 */
type Layer = Readonly<{ losesWPerK: number; gainsW: number }>;

/** Move both layers of air on: an implicit Euler step, stable whatever the door lets in. */
export function turnAir(
  chamber: Chamber,
  bodies: Bodies,
  paths: Paths,
  powerW: number,
  outsideC: number,
  stepS: number,
): void {
  const { mixingWPerK, inAboveWPerK, inBelowWPerK } = paths;
  const both = bothLayers(chamber, bodies, paths);
  const upper = upperLayer(chamber, paths, both, powerW);
  const lower = lowerLayer(chamber, paths, both);
  const inertiaWPerK = bodies.layerJPerK / stepS;
  // What has come in above falls, and goes out below.
  const downWPerK = mixingWPerK + inAboveWPerK;
  const upperWPerK = inertiaWPerK + downWPerK + upper.losesWPerK;
  const lowerWPerK = inertiaWPerK + downWPerK + inBelowWPerK + lower.losesWPerK;
  const upperW = inertiaWPerK * chamber.upperC + inAboveWPerK * outsideC + upper.gainsW;
  const lowerW = inertiaWPerK * chamber.lowerC + inBelowWPerK * outsideC + lower.gainsW;
  const determinant = upperWPerK * lowerWPerK - mixingWPerK * downWPerK;
  chamber.upperC = (upperW * lowerWPerK + mixingWPerK * lowerW) / determinant;
  chamber.lowerC = (upperWPerK * lowerW + downWPerK * upperW) / determinant;
}

function bothLayers(chamber: Chamber, bodies: Bodies, paths: Paths): Layer {
  const doorWPerK = paths.doorWPerK * 0.5;
  const cocoonWPerK = bodies.cocoonWPerK * 0.5;
  return {
    losesWPerK: paths.linerWPerK + doorWPerK + paths.shelvesWPerK + cocoonWPerK,
    gainsW:
      doorWPerK * chamber.doorC +
      paths.shelvesWPerK * chamber.shelvesC +
      cocoonWPerK * chamber.cocoonC,
  };
}

function upperLayer(chamber: Chamber, paths: Paths, both: Layer, powerW: number): Layer {
  const storesWPerK = paths.storesWPerK * STORES_UPPER;
  return {
    losesWPerK: both.losesWPerK + storesWPerK + paths.plateUpperWPerK + paths.freshWPerK,
    gainsW:
      both.gainsW +
      paths.linerWPerK * chamber.upperLinerC +
      storesWPerK * chamber.storesC +
      paths.plateUpperWPerK * chamber.plateC +
      paths.freshWPerK * chamber.freshC +
      powerW,
  };
}

function lowerLayer(chamber: Chamber, paths: Paths, both: Layer): Layer {
  const storesWPerK = paths.storesWPerK * STORES_LOWER;
  return {
    losesWPerK: both.losesWPerK + storesWPerK + paths.plateLowerWPerK,
    gainsW:
      both.gainsW +
      paths.linerWPerK * chamber.lowerLinerC +
      storesWPerK * chamber.storesC +
      paths.plateLowerWPerK * chamber.plateC,
  };
}
