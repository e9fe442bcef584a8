import type { Fault } from "./faults.js";
import type { Simulation } from "./simulation.js";

/**
 * Makes a simulation ill and well again as a calendar says, minute by minute. `rightedS` is when
 * the thermostat that drifted was put right, null before.
 */
export type DisorderWatch = {
  readonly faults: readonly Fault[];
  /** Mean over the last three hours of the air about the sensor, with the sensor's offset. */
  meanC: number;
  thermostat: "waits" | "drifts" | "cold" | "right";
  coldUntilS: number;
  rightedS: number | null;
};

/** The mean forgets with this time, min. */
const MEAN_OVER_MIN = 180;

/** Nothing is wrong yet. */
export function beginDisorders(faults: readonly Fault[], simulation: Simulation): DisorderWatch {
  return {
    faults,
    meanC: simulation.sensor.aboutC,
    thermostat: "waits",
    coldUntilS: 0,
    rightedS: null,
  };
}

/** Once a minute. So a fault sets in up to a minute after its start, and ends as late. */
export function turnDisorders(watch: DisorderWatch, simulation: Simulation, atS: number): void {
  const { disorder, sensor, fridge } = simulation;
  watch.meanC += (sensor.aboutC + fridge.sensor.offsetK - watch.meanC) / MEAN_OVER_MIN;
  turnThermostat(watch, simulation, atS);
  const dead = watch.faults.find(
    (fault) => fault.kind === "cooling-lost" && atS >= fault.startS && atS < fault.endS,
  );
  disorder.compressorDead = dead !== undefined;
  disorder.powered = !(dead?.kind === "cooling-lost" && dead.powerCut);
}

function turnThermostat(watch: DisorderWatch, { disorder }: Simulation, atS: number): void {
  const fault = watch.faults.find(({ kind }) => kind === "over-cooling");
  if (fault?.kind !== "over-cooling") return;
  if (watch.thermostat === "waits" && atS >= fault.startS) watch.thermostat = "drifts";
  if (watch.thermostat === "drifts") {
    disorder.setPointShiftK -= fault.perHourK / 60;
    const deep = watch.meanC <= fault.depthC;
    // A compressor too weak to get there is not waited for without end.
    if (deep || atS > fault.endS - fault.holdS - 60) {
      watch.thermostat = "cold";
      watch.coldUntilS = deep ? atS + fault.holdS : atS;
    }
  }
  if (watch.thermostat !== "cold" || atS < watch.coldUntilS) return;
  disorder.setPointShiftK = 0;
  watch.thermostat = "right";
  watch.rightedS = atS;
}
