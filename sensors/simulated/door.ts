import type { Fridge } from "./fridge.js";
import { ZERO_C_IN_K } from "./moist-air.js";

const GRAVITY_M_PER_S2 = 9.81;
/** Air that a moving door and its user stir in, m³/s per open share; our estimate. */
const STIRRED_M3_PER_S = 0.002;

/**
 * Air exchanged through the door, m³/s each way, cold out below and warm in above.
 *
 * Natural convection through a vertical opening: (C/3)·W·√(g·H³·ΔT/T), after Brown and Solvason
 * (1962), Int. J. Heat Mass Transfer 5:859–868; from memory. An open share narrows the width.
 * What seeps past the seal of a shut door comes on top.
 *
 * @param share 0 shut to 1 wide open
 */
export function doorFlowM3PerS(fridge: Fridge, share: number, airC: number, roomC: number): number {
  if (share <= 0) return fridge.seepM3PerS;
  const meanK = (airC + roomC) / 2 + ZERO_C_IN_K;
  const drive = (GRAVITY_M_PER_S2 * fridge.doorHeightM ** 3 * Math.abs(roomC - airC)) / meanK;
  const buoyant = (fridge.dischargeShare / 3) * share * fridge.doorWidthM * Math.sqrt(drive);
  return fridge.seepM3PerS + buoyant + share * STIRRED_M3_PER_S;
}
