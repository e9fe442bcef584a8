import { AIR_J_PER_M3_K, type Bodies, type Chamber } from "./chamber.js";
import type { Paths } from "./paths.js";
import { saturatedAtSurfaceGPerM3 } from "./saturation.js";

/** Saturation at each surface, g/m³; at stores and cocoons what they are in balance with. */
export type Surfaces = Readonly<{
  plateGPerM3: number;
  upperLinerGPerM3: number;
  lowerLinerGPerM3: number;
  shelvesGPerM3: number;
  storesGPerM3: number;
  cocoonsGPerM3: number;
}>;

/** Air a second that gives up its excess of vapour to a surface, or takes it up there, m³/s. */
export type Exchanges = Readonly<{
  plateUpperM3PerS: number;
  plateLowerM3PerS: number;
  upperLinerM3PerS: number;
  lowerLinerM3PerS: number;
  shelvesM3PerS: number;
  storesM3PerS: number;
  cocoonsM3PerS: number;
  mixingM3PerS: number;
  inAboveM3PerS: number;
  inBelowM3PerS: number;
}>;

/** Moist food is in balance with this humidity: its water activity, from memory. */
const STORES_HUMIDITY_SHARE = 0.97;
/** Of the vapour that would keep step with the cocoons' heat, what a box lets by; our choice. */
const BOX_SHARE = 0.3;
/** Surfaces that hold less than this are no longer wet all over, g; our choice. */
const FULL_FROST_G = 5;
const FULL_FILM_G = 2;

/** As they are now; over ice below 0 °C. */
export function surfacesOf(chamber: Chamber): Surfaces {
  return {
    plateGPerM3: saturatedAtSurfaceGPerM3(chamber.plateC),
    upperLinerGPerM3: saturatedAtSurfaceGPerM3(chamber.upperLinerC),
    lowerLinerGPerM3: saturatedAtSurfaceGPerM3(chamber.lowerLinerC),
    shelvesGPerM3: saturatedAtSurfaceGPerM3(chamber.shelvesC),
    storesGPerM3: STORES_HUMIDITY_SHARE * saturatedAtSurfaceGPerM3(chamber.storesC),
    cocoonsGPerM3: chamber.cocoonHumidityShare * saturatedAtSurfaceGPerM3(chamber.cocoonC),
  };
}

/**
 * Vapour goes with heat: conductance over the air's heat capacity, the Lewis relation with a Lewis
 * number of 1 (from memory). A dry surface takes up vapour only where air is damper than it.
 */
export function exchangesOf(
  chamber: Chamber,
  { cocoonWPerK }: Bodies,
  paths: Paths,
  at: Surfaces,
  dampM3PerS: number,
): Exchanges {
  const { upperGPerM3: upper, lowerGPerM3: lower, frostG } = chamber;
  const mean = 0.5 * (upper + lower);
  const liner = paths.linerWPerK / AIR_J_PER_M3_K;
  const plate = wetShare(mean, at.plateGPerM3, frostG, FULL_FROST_G) / AIR_J_PER_M3_K;
  const reaches = (airGPerM3: number) => airGPerM3 > at.plateGPerM3 || frostG > 0;
  return {
    plateUpperM3PerS: reaches(upper) ? paths.plateUpperWPerK * plate : 0,
    plateLowerM3PerS: reaches(lower) ? paths.plateLowerWPerK * plate : 0,
    upperLinerM3PerS: liner * wetShare(upper, at.upperLinerGPerM3, chamber.upperFilmG, FULL_FILM_G),
    lowerLinerM3PerS: liner * wetShare(lower, at.lowerLinerGPerM3, chamber.lowerFilmG, FULL_FILM_G),
    shelvesM3PerS:
      (paths.shelvesWPerK / AIR_J_PER_M3_K) *
      wetShare(mean, at.shelvesGPerM3, chamber.shelvesFilmG, FULL_FILM_G),
    storesM3PerS: dampM3PerS * 0.5,
    cocoonsM3PerS: (cocoonWPerK / AIR_J_PER_M3_K) * BOX_SHARE,
    mixingM3PerS: paths.mixingWPerK / AIR_J_PER_M3_K,
    inAboveM3PerS: paths.inAboveWPerK / AIR_J_PER_M3_K,
    inBelowM3PerS: paths.inBelowWPerK / AIR_J_PER_M3_K,
  };
}

/** How much of a surface takes part: all where vapour condenses, else as far as it is wet. */
function wetShare(airGPerM3: number, surfaceGPerM3: number, heldG: number, fullG: number): number {
  return airGPerM3 > surfaceGPerM3 ? 1 : Math.min(1, heldG / fullG);
}
