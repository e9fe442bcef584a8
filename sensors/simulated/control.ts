import type { Chamber, Forcing } from "./chamber.js";
import type { Fridge } from "./fridge.js";
import type { Circumstances } from "./script.js";

/** The fridge's switches. Times are seconds since the simulation began. */
export type Control = {
  /** What the thermostat's bulb feels, °C. */
  bulbC: number;
  calling: boolean;
  compressorOn: boolean;
  stoppedAtS: number;
  defrosting: boolean;
  defrostBeganAtS: number;
  drippingUntilS: number;
  /** Seconds, of the clock or of use, since the last defrost ended. */
  sinceDefrostS: number;
};

/** Open-door seconds count this many times compressor seconds towards an adaptive defrost. */
export const DOOR_WEIGHT = 20;

/** Switches as they are when the compressor has just rested. `sinceDefrostS` sets the phase. */
export function beginControl(bulbC: number, sinceDefrostS: number): Control {
  return {
    bulbC: bulbC + 0.01,
    calling: false,
    compressorOn: false,
    stoppedAtS: -1e6 + 0.5,
    defrosting: false,
    defrostBeganAtS: -1e6 + 0.5,
    drippingUntilS: -1e6 + 0.5,
    sinceDefrostS: sinceDefrostS + 0.5,
  };
}

/** Let thermostat and defrost timer act at `atS`, and set what acts on the chamber next. */
export function turnControl(
  control: Control,
  chamber: Chamber,
  fridge: Fridge,
  circumstances: Circumstances,
  forcing: Forcing,
  atS: number,
  stepS: number,
): void {
  turnThermostat(control, chamber, fridge, circumstances, stepS);
  turnDefrost(control, chamber, fridge, circumstances, atS, stepS);

  const rested = atS - control.stoppedAtS >= fridge.thermostat.minOffS;
  const free = !control.defrosting && atS >= control.drippingUntilS && !circumstances.powerCut;
  const on = control.calling && free && (control.compressorOn || rested);
  if (control.compressorOn && !on) control.stoppedAtS = atS;
  control.compressorOn = on;
  forcing.compressorOn = on && !circumstances.compressorDead;
  forcing.heaterOn = control.defrosting && !circumstances.powerCut;
  forcing.doorShare = circumstances.doorShare;
}

function turnThermostat(
  control: Control,
  chamber: Chamber,
  fridge: Fridge,
  circumstances: Circumstances,
  stepS: number,
): void {
  const { senses, lagS, dialC, hysteresisK } = fridge.thermostat;
  const sensedC =
    senses === "air" ? chamber.airC : senses === "wall" ? chamber.wallC : chamber.plateC;
  control.bulbC += (sensedC - control.bulbC) * Math.min(1, stepS / lagS);
  const middleC = dialC + circumstances.dialShiftK;
  if (circumstances.welded || control.bulbC >= middleC + hysteresisK / 2) control.calling = true;
  else if (control.bulbC <= middleC - hysteresisK / 2) control.calling = false;
}

function turnDefrost(
  control: Control,
  chamber: Chamber,
  fridge: Fridge,
  circumstances: Circumstances,
  atS: number,
  stepS: number,
): void {
  const { defrost } = fridge;
  if (defrost === null || circumstances.powerCut) return;
  if (control.defrosting) {
    const done = chamber.plateC >= defrost.endPlateC;
    if (!done && atS - control.defrostBeganAtS < defrost.maxS) return;
    control.defrosting = false;
    control.drippingUntilS = atS + defrost.dripS;
    control.sinceDefrostS = 0;
    return;
  }
  if (defrost.by === "clock") control.sinceDefrostS += stepS;
  else {
    if (control.compressorOn) control.sinceDefrostS += stepS;
    if (circumstances.doorShare > 0) control.sinceDefrostS += DOOR_WEIGHT * stepS;
  }
  if (control.sinceDefrostS >= defrost.everyS) {
    control.defrosting = true;
    control.defrostBeganAtS = atS;
  }
}
