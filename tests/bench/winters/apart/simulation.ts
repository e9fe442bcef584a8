import { powerInAirW, turnAir } from "./air.js";
import { type Bodies, beginChamber, bodiesOf, type Chamber, type Forcing } from "./chamber.js";
import { beginChance } from "./chance.js";
import { beginControl, type Control, type Disorder, inOrder, turnControl } from "./control.js";
import type { Fridge } from "./fridge.js";
import { pathsOf } from "./paths.js";
import type { Outside } from "./room.js";
import { beginSensor, followAir, type SensorNow } from "./sensor.js";
import { ageFresh, coolingW, turnBodies, turnPlate } from "./solids.js";
import type { Tuning } from "./tuning.js";
import { turnVapour } from "./vapour.js";

/** A fridge at work. `gapMm` and `disorder` are set from outside; the rest changes in place. */
export type Simulation = {
  readonly fridge: Fridge;
  readonly tuning: Tuning;
  readonly bodies: Bodies;
  readonly chamber: Chamber;
  readonly control: Control;
  readonly sensor: SensorNow;
  readonly disorder: Disorder;
  /** How far the door's free edge stands off its seat, 0 when shut. */
  gapMm: number;
};

/** The compressor's cooling builds up and dies away with this time, s; our choice. */
const COOLING_LAG_S = 50;
/** The fan runs on after the compressor for this long, ever slower, s; our choice. */
const FAN_RUNS_ON_S = 90;

/** A healthy fridge, shut, half an interval after its last defrost. */
export function beginSimulation(fridge: Fridge, tuning: Tuning): Simulation {
  return {
    fridge,
    tuning,
    bodies: bodiesOf(fridge),
    chamber: beginChamber(),
    control: beginControl(fridge, beginChance(fridge.seed, "defrostvar")),
    sensor: beginSensor(),
    disorder: inOrder(),
    gapMm: 0,
  };
}

/** The same fridge in the same state, healthy from now on; it goes on by itself. */
export function healthyTwin(simulation: Simulation): Simulation {
  const { chamber, control, sensor } = simulation;
  const { defrosts } = control;
  return {
    ...simulation,
    chamber: { ...chamber },
    control: { ...control, defrosts: { ...defrosts, chance: { ...defrosts.chance } } },
    sensor: { ...sensor },
    disorder: inOrder(),
  };
}

/** Move on by a step of at most 5 s, and of at most 2.5 s while the door is open. */
export function stepSimulation(simulation: Simulation, outside: Outside, stepS: number): void {
  const { fridge, tuning, bodies, chamber, control, disorder } = simulation;
  const outsideC = outside.temperatureC;
  const heaterW = turnControl(control, fridge, tuning, chamber, disorder, stepS);
  const forcing = forceOf(simulation, heaterW, stepS);
  const cooledW = forcing.compressorRuns ? coolingW(fridge.cooling, chamber) : 0;
  const paths = pathsOf(fridge, chamber, forcing, outsideC);
  turnAir(chamber, bodies, paths, powerInAirW(fridge, chamber, forcing), outsideC, stepS);
  const water = turnVapour(chamber, bodies, paths, fridge, outside.vapourGPerM3, stepS);
  turnBodies(chamber, bodies, paths, water, outsideC, stepS);
  turnPlate(chamber, bodies, paths, water, heaterW - cooledW, stepS);
  ageFresh(chamber, stepS);
  const { gapMm, fanDraught } = forcing;
  const draughts = { gapMm, fanDraught, freeShare: fridge.draughts.freeShare };
  followAir(simulation.sensor, fridge.sensor, chamber, outside, draughts, stepS);
}

/** Let compressor and fan pick up or run down, and say what acts on the chamber. */
function forceOf(simulation: Simulation, heaterW: number, stepS: number): Forcing {
  const { fridge, chamber, control, disorder, gapMm } = simulation;
  const { draughts, cabinet } = fridge;
  const compressorRuns = control.compressorOn && !disorder.compressorDead && disorder.powered;
  const built = 1 - Math.exp(-stepS / COOLING_LAG_S);
  chamber.coolingShare += ((compressorRuns ? 1 : 0) - chamber.coolingShare) * built;
  chamber.fanShare = compressorRuns ? 1 : Math.max(0, chamber.fanShare - stepS / FAN_RUNS_ON_S);
  const feltOpen = gapMm > draughts.switchMm;
  const stopped = !disorder.powered || control.defrosts.heating;
  const blows = !stopped && !(feltOpen && draughts.fanStopsWithDoor);
  return {
    gapMm,
    compressorRuns,
    heaterW,
    fanDraught: blows ? cabinet.fanStrength * chamber.fanShare : 0,
    lampW: feltOpen ? draughts.lampW : 0,
  };
}
