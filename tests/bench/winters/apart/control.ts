import { airOf, type Chamber } from "./chamber.js";
import { type Chance, drawBetween, drawRatio } from "./chance.js";
import { beginDefrosts, countToDefrost, type DefrostNow, heatPlate } from "./defrost.js";
import type { Fridge } from "./fridge.js";
import type { Tuning } from "./tuning.js";

/** What the thermostat feels, and what it is meant to hold. */
export type Thermostat = Readonly<{
  /** Of what it feels, how much is the plate; the rest is air and liner. */
  plateShare: number;
  lagS: number;
  leastOffS: number;
  leastOnS: number;
  /** Mean that a sensor is to show, openings and defrosts included. */
  meanC: number;
  /** Half of the compressor's cycle that a sensor is to show. */
  halfCycleK: number;
}>;

/** Thermostat, compressor and heater as they are now. Changed in place. */
export type Control = {
  feltC: number;
  compressorOn: boolean;
  sinceSwitchS: number;
  readonly defrosts: DefrostNow;
};

/** What is wrong with it, if anything. */
export type Disorder = {
  /** Added to the set point. */
  setPointShiftK: number;
  compressorDead: boolean;
  powered: boolean;
};

/** A mean within 34 to 38 °F, cycles of ±0.5 to ±2.5 K. Distributions are our choice. */
export function drawThermostat(chance: Chance): Thermostat {
  return {
    plateShare: drawBetween(chance, 0, 0.3),
    lagS: drawRatio(chance, 20, 400),
    leastOffS: drawBetween(chance, 120, 330),
    leastOnS: drawBetween(chance, 60, 200),
    meanC: drawBetween(chance, 1.35, 3),
    halfCycleK: drawRatio(chance, 0.55, 2.35),
  };
}

/** The compressor off, and free to start. */
export function beginControl({ defrost }: Fridge, chance: Chance): Control {
  const defrosts = beginDefrosts(defrost, chance);
  return { feltC: 2, compressorOn: false, sinceSwitchS: Number.POSITIVE_INFINITY, defrosts };
}

/** Nothing is wrong. */
export const inOrder = (): Disorder => ({
  setPointShiftK: 0,
  compressorDead: false,
  powered: true,
});

/** Feel, switch, and say what the heater gives in this step, W. */
export function turnControl(
  control: Control,
  fridge: Fridge,
  tuning: Tuning,
  chamber: Chamber,
  disorder: Disorder,
  stepS: number,
): number {
  const { thermostat } = fridge;
  control.sinceSwitchS += stepS;
  const share = 1 - Math.exp(-stepS / thermostat.lagS);
  control.feltC += (feelsC(thermostat, chamber) - control.feltC) * share;
  const heaterW = disorder.powered
    ? turnPowered(control, fridge, tuning, chamber.plateC, disorder, stepS)
    : 0;
  if (disorder.compressorDead && control.compressorOn) switchTo(control, false);
  return heaterW;
}

function feelsC({ plateShare }: Thermostat, chamber: Chamber): number {
  const liningC = 0.25 * (chamber.upperLinerC + chamber.lowerLinerC);
  return plateShare * chamber.plateC + (1 - plateShare) * (0.5 * airOf(chamber) + liningC);
}

function turnPowered(
  control: Control,
  { thermostat, defrost }: Fridge,
  tuning: Tuning,
  plateC: number,
  disorder: Disorder,
  stepS: number,
): number {
  const { defrosts, compressorOn } = control;
  const runs = compressorOn && !disorder.compressorDead;
  const begins = countToDefrost(defrosts, defrost, tuning.runShare, compressorOn, runs, stepS);
  if (begins && compressorOn) switchTo(control, false);
  if (defrosts.heating) return heatPlate(defrosts, tuning, plateC, stepS);
  if (defrosts.dripS > 0) defrosts.dripS -= stepS;
  else turnThermostat(control, thermostat, tuning, disorder);
  return 0;
}

function turnThermostat(
  control: Control,
  { leastOffS, leastOnS }: Thermostat,
  { setPointC, hysteresisK }: Tuning,
  { setPointShiftK, compressorDead }: Disorder,
): void {
  const { feltC, sinceSwitchS } = control;
  const middleC = setPointC + setPointShiftK;
  if (!control.compressorOn) {
    const mayStart = sinceSwitchS > leastOffS && !compressorDead;
    if (mayStart && feltC > middleC + hysteresisK) switchTo(control, true);
  } else if (sinceSwitchS > leastOnS && feltC < middleC - hysteresisK) switchTo(control, false);
}

function switchTo(control: Control, on: boolean): void {
  control.compressorOn = on;
  control.sinceSwitchS = 0;
}
