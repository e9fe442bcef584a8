import { DAY_MS, HOUR_MS, SECOND_MS } from "../../../../shared/time.js";
import type { Label } from "../label.js";
import { airOf } from "./chamber.js";
import type { Fault } from "./faults.js";
import type { Fridge } from "./fridge.js";
import { healthyLife, type Life, moveOn } from "./life.js";

/** How long after a fault's end the cocoons' temperature still counts as its doing. */
const AFTERMATH_S = (3 * HOUR_MS) / SECOND_MS;
/** A healthy twin is watched for its next start no longer than this. */
const LOOK_AHEAD_S = DAY_MS / SECOND_MS;

/** What the truth did during one fault. Changed in place; times in seconds of the winter. */
type Facts = {
  readonly fault: Fault;
  /** Later than `fault.endS` never; sooner where a thermostat was put right. */
  endS: number;
  dueS: number | null;
  above5S: number | null;
  below0S: number | null;
  laterAirSumC: number;
  laterSteps: number;
};

/** Gathers what labels tell of the truth. Changed in place. */
export type LabelWatch = { readonly facts: readonly Facts[]; current: number };

/** Before the winter; `faults` in time order. */
export function beginLabels(faults: readonly Fault[]): LabelWatch {
  const facts = faults.map(
    (fault): Facts => ({
      fault,
      endS: Math.round(fault.endS),
      dueS: null,
      above5S: null,
      below0S: null,
      laterAirSumC: 0,
      laterSteps: 0,
    }),
  );
  return { facts, current: 0 };
}

/** Before the step that begins at the life's time. */
export function lookBefore(watch: LabelWatch, life: Life): void {
  const facts = watch.facts[watch.current];
  if (facts === undefined) return;
  if (life.atS > facts.endS + AFTERMATH_S) watch.current++;
  else if (facts.fault.kind === "cooling-lost" && life.atS >= facts.fault.startS)
    facts.dueS ??= nextHealthyStartS(healthyLife(life));
}

/** After a step; `rightedS` is when the thermostat that drifted was put right, null before. */
export function lookAfter(watch: LabelWatch, life: Life, rightedS: number | null): void {
  const facts = watch.facts[watch.current];
  if (facts === undefined || life.atS < facts.fault.startS) return;
  if (facts.fault.kind === "over-cooling" && rightedS !== null) facts.endS = rightedS;
  const { chamber } = life.simulation;
  if (chamber.cocoonC > 5) facts.above5S ??= life.atS;
  if (chamber.cocoonC < 0) facts.below0S ??= life.atS;
  const { startS } = facts.fault;
  if (life.atS <= (startS + facts.endS) / 2 || life.atS > facts.endS) return;
  facts.laterAirSumC += airOf(chamber);
  facts.laterSteps++;
}

/** The labels in time order; `undisturbedC` is the true mean of this fridge's air left alone. */
export function labelsOf(
  { facts }: LabelWatch,
  { cabinet }: Fridge,
  undisturbedC: number,
  probeId: string,
  startMs: number,
): Label[] {
  const toMs = (atS: number | null) => (atS === null ? null : startMs + atS * SECOND_MS);
  return facts.map((fact): Label => {
    const { fault } = fact;
    const isDoor = fault.kind === "door-ajar";
    return {
      kind: fault.kind,
      startMs: startMs + fault.startS * SECOND_MS,
      endMs: startMs + fact.endS * SECOND_MS,
      nextStartDueMs: toMs(fact.dueS),
      cocoonCrosses5AtMs: toMs(fact.above5S),
      cocoonCrosses0AtMs: toMs(fact.below0S),
      probeId: fault.kind === "probe-mute" ? probeId : null,
      // A door swung beyond its own width is wide open.
      doorShare: isDoor ? Math.min(1, fault.gapMm / 1_000 / cabinet.doorWidthM) : null,
      airRiseK: isDoor ? fact.laterAirSumC / fact.laterSteps - undisturbedC : null,
    };
  });
}

/** When a healthy fridge next starts its compressor, at most a day from now. */
function nextHealthyStartS(twin: Life): number {
  const untilS = twin.atS + LOOK_AHEAD_S;
  const { control } = twin.simulation;
  let wasOn = control.compressorOn;
  while (twin.atS < untilS) {
    moveOn(twin, untilS);
    if (control.compressorOn && !wasOn) break;
    wasOn = control.compressorOn;
  }
  return twin.atS;
}
