import type { Reading } from "../../shared/reading.js";
import { beginChamber, type Chamber, type Forcing, stepChamber } from "./chamber.js";
import { beginControl, type Control, turnControl } from "./control.js";
import type { Fridge } from "./fridge.js";
import { relativeHumidityPct } from "./moist-air.js";
import { beginProbe, followProbe, type ProbeSetup, type ProbeState, speakProbe } from "./probe.js";
import { beginRoom, type RoomState, turnRoom } from "./room.js";
import {
  type Circumstances,
  type Happening,
  type Playing,
  playScript,
  turnScript,
} from "./script.js";
import { drawBetween, type Seeded, seeded } from "./seeded.js";

/** Everything that decides a simulation: the same plan gives the same readings. */
export type Plan = Readonly<{
  fridge: Fridge;
  seed: number;
  startMs: number;
  endMs: number;
  probes: readonly ProbeSetup[];
  script: readonly Happening[];
}>;

/** What really was, when a probe spoke. */
export type Truth = Readonly<{
  airC: number;
  boxC: number;
  cocoonC: number;
  roomC: number;
  airHumidityPct: number;
  boxHumidityPct: number;
  doorShare: number;
  /** Called for and free to run; a dead compressor is on and does nothing. */
  compressorOn: boolean;
  defrosting: boolean;
}>;

/** One reading, whether it arrived, and the truth behind it. */
export type Sample = Readonly<{ reading: Reading; arrived: boolean; truth: Truth }>;

/** A simulation under way; changed in place by `stepSimulation`. */
export type Simulation = {
  readonly plan: Plan;
  atS: number;
  readonly chamber: Chamber;
  readonly control: Control;
  readonly room: RoomState;
  readonly weather: Seeded;
  readonly probes: readonly ProbeState[];
  readonly forcing: Forcing;
  playing: Playing;
  roomTurnedS: number;
};

/** Length of a step, s. */
export const STEP_S = 5;
const ROOM_STEP_S = 60;

/** Set a simulation up at its plan's start. */
export function beginSimulation(plan: Plan): Simulation {
  const { fridge, seed } = plan;
  const weather = seeded(seed, "weather");
  const room = beginRoom(fridge.room, weather);
  const chamber = beginChamber(2.5, 65);
  const bulbC = fridge.thermostat.dialC;
  const phaseS = drawBetween(seeded(seed, "defrost"), 0, fridge.defrost?.everyS ?? 0);
  const probes = plan.probes.map((setup) => {
    const outside = setup.place === "room";
    const temperatureC = outside ? room.temperatureC : chamber.airC;
    const vapour = outside ? room.vapourKgPerM3 : chamber.airVapour;
    return beginProbe(setup, temperatureC, vapour, STEP_S, seeded(seed, `probe ${setup.id}`));
  });
  return {
    plan,
    atS: 0,
    chamber,
    control: beginControl(bulbC, phaseS),
    room,
    weather,
    probes,
    forcing: { doorShare: 0, compressorOn: false, heaterOn: false },
    playing: playScript(plan.script, plan.startMs),
    roomTurnedS: 0,
  };
}

/** A copy that goes on by another script from here, chance being the same. */
export function branchSimulation(from: Simulation, script: readonly Happening[]): Simulation {
  const copy = structuredClone({ ...from, plan: null, playing: null });
  const plan = { ...from.plan, script };
  const atMs = plan.startMs + from.atS * 1_000;
  return { ...copy, plan, playing: playScript(script, atMs) };
}

/** Move on by `STEP_S`. */
export function stepSimulation(simulation: Simulation): void {
  const { plan, chamber, control, room, forcing } = simulation;
  const { fridge } = plan;
  const atMs = plan.startMs + simulation.atS * 1_000;
  const circumstances = turnScript(simulation.playing, atMs);
  if (circumstances.restockShare > 0) restock(chamber, circumstances);
  if (simulation.atS - simulation.roomTurnedS >= ROOM_STEP_S) {
    const { weather } = simulation;
    turnRoom(room, fridge.room, weather, atMs, ROOM_STEP_S, circumstances.roomRiseK);
    simulation.roomTurnedS = simulation.atS;
  }
  turnControl(control, chamber, fridge, circumstances, forcing, simulation.atS, STEP_S);
  stepChamber(chamber, fridge, room, forcing, STEP_S);
  for (const probe of simulation.probes) followProbe(probe, chamber, fridge, room);
  simulation.atS += STEP_S;
}

function restock(chamber: Chamber, { restockShare, restockC }: Circumstances): void {
  chamber.foodC += restockShare * (restockC - chamber.foodC);
}

/** What really is, now. */
export function truthOf(simulation: Simulation): Truth {
  const { chamber, control, room, forcing } = simulation;
  return {
    airC: chamber.airC,
    boxC: chamber.boxC,
    cocoonC: chamber.cocoonC,
    roomC: room.temperatureC,
    airHumidityPct: relativeHumidityPct(chamber.airVapour, chamber.airC),
    boxHumidityPct: relativeHumidityPct(chamber.boxVapour, chamber.boxC),
    doorShare: forcing.doorShare,
    compressorOn: control.compressorOn,
    defrosting: control.defrosting,
  };
}

/** Run a plan from start to end: each probe's readings in time order, lost ones included. */
export function* simulate(plan: Plan): Generator<Sample, void, undefined> {
  const simulation = beginSimulation(plan);
  const endS = (plan.endMs - plan.startMs) / 1_000;
  while (simulation.atS < endS) {
    stepSimulation(simulation);
    yield* speakProbes(simulation);
  }
}

/** The readings due at this step; most steps have none. */
export function speakProbes(simulation: Simulation): readonly Sample[] {
  let samples: Sample[] | null = null;
  for (const probe of simulation.probes) {
    if (probe.dueS > simulation.atS) continue;
    const takenAtMs = simulation.plan.startMs + simulation.atS * 1_000;
    const { reading, lost } = speakProbe(probe, simulation.atS, takenAtMs);
    const muted = simulation.playing.active.some(
      (h) => h.kind === "mute" && (h.probeId === null || h.probeId === reading.probeId),
    );
    samples ??= [];
    samples.push({ reading, arrived: !lost && !muted, truth: truthOf(simulation) });
  }
  return samples ?? SILENT;
}

const SILENT: readonly Sample[] = [];
