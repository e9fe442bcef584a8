import type { Happening } from "../../../sensors/simulated/script.js";
import {
  branchSimulation,
  type Simulation,
  stepSimulation,
} from "../../../sensors/simulated/simulation.js";
import { HOUR_MS } from "../../../shared/time.js";
import type { Placed } from "./calendar.js";
import type { Label } from "./label.js";

/** How long after a fault's end the cocoons' temperature still counts as its doing. */
const AFTERMATH_MS = 3 * HOUR_MS;

/** What the truth did during one fault. */
type Facts = {
  readonly placed: Placed;
  dueMs: number | null;
  above5Ms: number | null;
  below0Ms: number | null;
  laterAirSumC: number;
  laterSteps: number;
};

/** Watches a simulation step by step and gathers what the labels tell of the truth. */
export type LabelWatch = Readonly<{
  /** Before the step that begins at the simulation's time. */
  before(simulation: Simulation): void;
  after(simulation: Simulation): void;
  labels(): Label[];
}>;

/**
 * Begin to watch. `healthy` is the script without its faults, which a twin follows to say when
 * a compressor would next have started; `meanC` is the fridge's air when left alone.
 */
export function watchLabels(
  placed: readonly Placed[],
  healthy: readonly Happening[],
  meanC: number,
): LabelWatch {
  const facts = placed.map(beginFacts);
  let current = 0;
  return {
    before(simulation) {
      const fact = facts[current];
      if (fact === undefined) return;
      const atMs = timeOf(simulation);
      if (atMs > fact.placed.endMs + AFTERMATH_MS) current++;
      else if (atMs >= fact.placed.startMs && fact.dueMs === null) {
        const dies = fact.placed.fault.kind === "cooling-lost";
        if (dies) fact.dueMs = nextHealthyStart(branchSimulation(simulation, healthy));
      }
    },
    after(simulation) {
      const fact = facts[current];
      if (fact !== undefined) noteTruth(fact, simulation);
    },
    labels: () => facts.map((fact) => toLabel(fact, meanC)),
  };
}

function beginFacts(placed: Placed): Facts {
  return {
    placed,
    dueMs: null,
    above5Ms: null,
    below0Ms: null,
    laterAirSumC: 0,
    laterSteps: 0,
  };
}

function timeOf(simulation: Simulation): number {
  return simulation.plan.startMs + simulation.atS * 1_000;
}

function noteTruth(fact: Facts, simulation: Simulation): void {
  const { startMs, endMs } = fact.placed;
  const atMs = timeOf(simulation);
  if (atMs < startMs) return;
  const { airC, cocoonC } = simulation.chamber;
  if (fact.above5Ms === null && cocoonC > 5) fact.above5Ms = atMs;
  if (fact.below0Ms === null && cocoonC < 0) fact.below0Ms = atMs;
  if (atMs <= (startMs + endMs) / 2 || atMs > endMs) return;
  fact.laterAirSumC += airC;
  fact.laterSteps++;
}

function toLabel(fact: Facts, meanC: number): Label {
  const { fault, startMs, endMs } = fact.placed;
  const isDoor = fault.kind === "door-ajar";
  return {
    kind: fault.kind,
    startMs,
    endMs,
    nextStartDueMs: fact.dueMs,
    cocoonCrosses5AtMs: fact.above5Ms,
    cocoonCrosses0AtMs: fact.below0Ms,
    probeId: fault.probeId,
    doorShare: fault.doorShare,
    airRiseK: isDoor ? fact.laterAirSumC / fact.laterSteps - meanC : null,
  };
}

/** When a healthy fridge next starts its compressor, at most a day from now. */
function nextHealthyStart(twin: Simulation): number {
  const untilS = twin.atS + 86_400;
  let wasOn = twin.control.compressorOn;
  while (twin.atS < untilS) {
    stepSimulation(twin);
    const { compressorOn } = twin.control;
    if (compressorOn && !wasOn) break;
    wasOn = compressorOn;
  }
  return timeOf(twin);
}
