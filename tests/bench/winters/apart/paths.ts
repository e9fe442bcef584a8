import type { Cabinet, Cooling, Draughts } from "./cabinet.js";
import { AIR_J_PER_M3_K, airOf, type Chamber, type Forcing } from "./chamber.js";
import type { Fridge } from "./fridge.js";

/** The ways that heat takes during a step, W/K. Liner, shelves and stores: for half of each. */
export type Paths = Readonly<{
  linerWPerK: number;
  linerLeakWPerK: number;
  doorWPerK: number;
  doorLeakWPerK: number;
  /** From the door's inside straight to the room where it stands open. */
  doorOutWPerK: number;
  shelvesWPerK: number;
  storesWPerK: number;
  plateUpperWPerK: number;
  plateLowerWPerK: number;
  mixingWPerK: number;
  /** Room air that comes in above, falls, and leaves below. */
  inAboveWPerK: number;
  /** Room air that meets the lower layer straight. */
  inBelowWPerK: number;
  freshWPerK: number;
  /** 0 shut, towards 1 the wider the door is. */
  openShare: number;
}>;

/** Of the inner surface, the walls and the door; our choice. */
const WALL_SHARE = 0.8;
const DOOR_SHARE = 0.2;
/** A gap of this many mm is halfway to wide open for what hangs at the door; our choice. */
const HALF_OPEN_MM = 150;
/** From the inside of an open door to the room, W/(m²·K): still indoor air, from memory. */
const DOOR_TO_ROOM_W_PER_M2_K = 7;
/** So much frost halves what a plate takes up, g; our choice. */
const HALVING_FROST_G = 900;
/** Fresh food gives off its heat in about an hour and a half, W/K of each J/K; our choice. */
const FRESH_W_PER_J = 0.00019;
const FRESH_MOST_W_PER_K = 2.5;
/** Below this there is no fresh food, J/K. */
export const FRESH_LEAST_J_PER_K = 10;

/**
 * The ways as they are for this chamber, before its air moves on. How much a fan and a moving door
 * quicken each is our choice.
 */
export function pathsOf(
  { cabinet, contents, cooling, draughts }: Fridge,
  chamber: Chamber,
  { gapMm, fanDraught, heaterW, compressorRuns }: Forcing,
  outsideC: number,
): Paths {
  const openShare = gapMm > 0 ? gapMm / (gapMm + HALF_OPEN_MM) : 0;
  const stirred = 1 + 0.5 * openShare;
  const surfaceWPerM2K = cabinet.linerWPerM2K * (1 + 0.9 * fanDraught);
  const doorM2 = cabinet.wallM2 * DOOR_SHARE;
  const plateWPerK = cooling.plateWPerK * plateReach(cabinet, cooling, chamber.frostG, fanDraught);
  const plateUpperWPerK = plateWPerK * cooling.plateUpperShare;
  const inAboveWPerK = gapMm > 0 ? inflowWPerK(cabinet, draughts, gapMm, chamber, outsideC) : 0;
  const { freshJPerK } = chamber;
  return {
    linerWPerK: surfaceWPerM2K * cabinet.wallM2 * WALL_SHARE * 0.5 * stirred,
    linerLeakWPerK: cabinet.leakWPerK * WALL_SHARE * 0.5,
    doorWPerK: surfaceWPerM2K * doorM2 * (1 - openShare),
    doorLeakWPerK: cabinet.leakWPerK * DOOR_SHARE,
    doorOutWPerK: DOOR_TO_ROOM_W_PER_M2_K * doorM2 * openShare,
    shelvesWPerK: contents.shelvesWPerK * (1 + 0.8 * fanDraught) * stirred * 0.5,
    storesWPerK: contents.storesWPerK * (1 + 0.5 * fanDraught) * 0.5,
    plateUpperWPerK,
    plateLowerWPerK: plateWPerK - plateUpperWPerK,
    mixingWPerK: mixing(draughts, chamber, fanDraught, compressorRuns || heaterW > 0),
    inAboveWPerK,
    inBelowWPerK: 0.2 * inAboveWPerK,
    freshWPerK:
      freshJPerK > FRESH_LEAST_J_PER_K
        ? Math.min(FRESH_MOST_W_PER_K, FRESH_W_PER_J * freshJPerK)
        : 0,
    openShare,
  };
}

/** Of the plate's full reach what fan and frost leave; our choice. */
function plateReach(
  { fanStrength }: Cabinet,
  { plateStillShare }: Cooling,
  frostG: number,
  fanDraught: number,
): number {
  const turning = fanStrength > 0 ? fanDraught / fanStrength : 0;
  const still = fanStrength > 0 ? plateStillShare * (1 - 0.5 * fanStrength) : 1;
  const reach = fanDraught > 0 ? plateStillShare * (1 - turning) + turning : still;
  return reach / (1 + frostG / HALVING_FROST_G);
}

/** Between the layers: more by a fan, where air below is warmer, beside a plate; our choice. */
function mixing(
  { mixingWPerK, fanMixingWPerK }: Draughts,
  chamber: Chamber,
  fanDraught: number,
  plateAtWork: boolean,
): number {
  const overturnK = chamber.lowerC - chamber.upperC;
  const overturning = overturnK > 0 ? 10 * Math.sqrt(overturnK) : 0;
  const beside = 0.35 * Math.abs(chamber.plateC - airOf(chamber));
  return mixingWPerK + fanMixingWPerK * fanDraught + overturning + (plateAtWork ? 1.5 : 0) + beside;
}

/**
 * Heat that room air carries through a gap, W/K of difference.
 *
 * Natural convection through a vertical opening: (C/3)·A·√(g·H·ΔT/T) with C = 0.6, after Brown and
 * Solvason (1962), Int. J. Heat Mass Transfer 5:859–868; from memory. The seal still bars a gap of
 * a few millimetres, the opening is a slit at the edge and two wedges, and air is never quite
 * still; these are our choice.
 */
function inflowWPerK(
  { heightM, doorWidthM }: Cabinet,
  { freeShare }: Draughts,
  gapMm: number,
  chamber: Chamber,
  outsideC: number,
): number {
  const gapM = gapMm / 1_000;
  const slitM2 = heightM * gapM + 0.8 * doorWidthM * gapM;
  const pastSeal = gapMm ** 2 / (gapMm ** 2 + 36);
  const openM2 = Math.min(heightM * doorWidthM, slitM2) * freeShare * pastSeal;
  const drive = (9.81 * heightM * Math.abs(outsideC - airOf(chamber))) / 285 + 0.002;
  return AIR_J_PER_M3_K * (0.6 / 3) * openM2 * Math.sqrt(drive);
}
