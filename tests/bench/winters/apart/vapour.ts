import type { Bodies, Chamber } from "./chamber.js";
import { within } from "./chance.js";
import type { Fridge } from "./fridge.js";
import type { Paths } from "./paths.js";
import { type Exchanges, exchangesOf, type Surfaces, surfacesOf } from "./surfaces.js";

/** Water that moved to a surface, or from the stores, during a step. */
export type WaterMoved = Readonly<{
  toPlateGPerS: number;
  toUpperLinerGPerS: number;
  toLowerLinerGPerS: number;
  toShelvesGPerS: number;
  fromStoresGPerS: number;
}>;

/** Air that a shut door's seal breathes for each layer, m³/s; our choice. */
const SEAL_M3_PER_S = 1e-6;
/** More runs down to the drain, g; our choice. */
const LINER_MOST_G = 25;
const SHELVES_MOST_G = 20;

/** Move vapour, films, frost and the cocoons' moisture on, and say how much water went where. */
export function turnVapour(
  chamber: Chamber,
  bodies: Bodies,
  paths: Paths,
  { draughts, contents }: Fridge,
  outsideGPerM3: number,
  stepS: number,
): WaterMoved {
  const at = surfacesOf(chamber);
  const by = exchangesOf(chamber, bodies, paths, at, draughts.dampM3PerS);
  const meanGPerM3 = 0.5 * (chamber.upperGPerM3 + chamber.lowerGPerM3);
  turnLayers(chamber, bodies.layerM3 / stepS, by, at, outsideGPerM3);
  const { upperGPerM3: upper, lowerGPerM3: lower } = chamber;
  const moved: WaterMoved = {
    toPlateGPerS:
      by.plateUpperM3PerS * (upper - at.plateGPerM3) +
      by.plateLowerM3PerS * (lower - at.plateGPerM3),
    toUpperLinerGPerS: by.upperLinerM3PerS * (upper - at.upperLinerGPerM3),
    toLowerLinerGPerS: by.lowerLinerM3PerS * (lower - at.lowerLinerGPerM3),
    toShelvesGPerS: by.shelvesM3PerS * (upper + lower - 2 * at.shelvesGPerM3),
    fromStoresGPerS: by.storesM3PerS * 2 * (at.storesGPerM3 - meanGPerM3),
  };
  settle(chamber, moved, stepS);
  const toCocoonsGPerS = by.cocoonsM3PerS * (upper + lower - 2 * at.cocoonsGPerM3);
  chamber.cocoonHumidityShare = within(
    chamber.cocoonHumidityShare + (toCocoonsGPerS * stepS) / cocoonWaterG(contents.cocoonKg),
    0.05,
    0.98,
  );
  return moved;
}

/** Water that cocoons and their box take up from bone dry to saturated, g; our choice. */
export function cocoonWaterG(cocoonKg: number): number {
  return cocoonKg * 1_000 * 0.15 + 20;
}

/** Vapour in both layers, an implicit Euler step; `inertiaM3PerS` is a layer over the step. */
function turnLayers(
  chamber: Chamber,
  inertiaM3PerS: number,
  by: Exchanges,
  at: Surfaces,
  outsideGPerM3: number,
): void {
  const downM3PerS = by.mixingM3PerS + by.inAboveM3PerS;
  const bothM3PerS = by.shelvesM3PerS + by.storesM3PerS + by.cocoonsM3PerS + SEAL_M3_PER_S;
  const sharedM3PerS = inertiaM3PerS + downM3PerS + bothM3PerS;
  const fromBothGPerS =
    by.shelvesM3PerS * at.shelvesGPerM3 +
    by.storesM3PerS * at.storesGPerM3 +
    by.cocoonsM3PerS * at.cocoonsGPerM3;
  const upperM3PerS = sharedM3PerS + by.plateUpperM3PerS + by.upperLinerM3PerS;
  const lowerM3PerS = sharedM3PerS + by.inBelowM3PerS + by.plateLowerM3PerS + by.lowerLinerM3PerS;
  const upperGPerS =
    inertiaM3PerS * chamber.upperGPerM3 +
    (by.inAboveM3PerS + SEAL_M3_PER_S) * outsideGPerM3 +
    by.plateUpperM3PerS * at.plateGPerM3 +
    by.upperLinerM3PerS * at.upperLinerGPerM3 +
    fromBothGPerS;
  const lowerGPerS =
    inertiaM3PerS * chamber.lowerGPerM3 +
    (by.inBelowM3PerS + SEAL_M3_PER_S) * outsideGPerM3 +
    by.plateLowerM3PerS * at.plateGPerM3 +
    by.lowerLinerM3PerS * at.lowerLinerGPerM3 +
    fromBothGPerS;
  const determinant = upperM3PerS * lowerM3PerS - by.mixingM3PerS * downM3PerS;
  chamber.upperGPerM3 = (upperGPerS * lowerM3PerS + by.mixingM3PerS * lowerGPerS) / determinant;
  chamber.lowerGPerM3 = (lowerGPerS * upperM3PerS + downM3PerS * upperGPerS) / determinant;
}

/** What settled stays until it has gone again; no surface holds less than nothing. */
function settle(chamber: Chamber, moved: WaterMoved, stepS: number): void {
  const { frostG, upperFilmG, lowerFilmG, shelvesFilmG } = chamber;
  chamber.frostG = Math.max(0, frostG + moved.toPlateGPerS * stepS);
  chamber.upperFilmG = within(upperFilmG + moved.toUpperLinerGPerS * stepS, 0, LINER_MOST_G);
  chamber.lowerFilmG = within(lowerFilmG + moved.toLowerLinerGPerS * stepS, 0, LINER_MOST_G);
  chamber.shelvesFilmG = within(shelvesFilmG + moved.toShelvesGPerS * stepS, 0, SHELVES_MOST_G);
}
