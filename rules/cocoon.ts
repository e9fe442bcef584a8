import type { Chamber } from "../shared/site.js";
import { MINUTE_MS } from "../shared/time.js";
import { ASSUMED_LAG_MS } from "./constants.js";
import { followLinear } from "./lag.js";

/** What the cocoons of one chamber feel, and how that is known. */
export type CocoonState = Readonly<{
  /** The cocoons, °C: measured in a box, else estimated from the air; null before the first reading. */
  cocoonC: number | null;
  /** The estimate from the air alone, and the air it last followed. */
  estimateC: number | null;
  airC: number;
  airAtMs: number;
  /** First air reading of all: a young estimate must not start from one swing of the thermostat. */
  sinceMs: number;
  boxes: readonly BoxValue[];
}>;

type BoxValue = Readonly<{ probeId: string; atMs: number; temperatureC: number; freshMs: number }>;

export function beginCocoon(): CocoonState {
  return { cocoonC: null, estimateC: null, airC: 0, airAtMs: 0, sinceMs: 0, boxes: [] };
}

/** Let the cocoons follow one air reading, with the lag that is set, else with the one learned. */
export function followAir(
  state: CocoonState,
  airC: number,
  atMs: number,
  chamber: Chamber,
  learnedLagMs = ASSUMED_LAG_MS,
): CocoonState {
  const { estimateC: before, boxes } = state;
  const sinceMs = before === null ? atMs : state.sinceMs;
  const lagMs = chamber.cocoonLagMs ?? learnedLagMs;
  // A mean of all air so far until the lag has passed once, then the lag itself.
  const youngMs = Math.min(lagMs, Math.max(atMs - sinceMs, MINUTE_MS));
  const estimateC =
    before === null ? airC : followLinear(before, state.airC, airC, atMs - state.airAtMs, youngMs);
  const cocoonC = choose(estimateC, boxes, atMs, chamber);
  return { cocoonC, estimateC, airC, airAtMs: atMs, sinceMs, boxes };
}

/** Take in what a probe in a box measured; `freshMs` is how long it stands for the present. */
export function hearBox(state: CocoonState, box: BoxValue, chamber: Chamber): CocoonState {
  const { estimateC, airC, airAtMs, sinceMs } = state;
  const at = state.boxes.findIndex((b) => b.probeId === box.probeId);
  const boxes = at < 0 ? [...state.boxes, box].sort(byProbe) : state.boxes.with(at, box);
  const cocoonC = choose(estimateC, boxes, box.atMs, chamber);
  return { cocoonC, estimateC, airC, airAtMs, sinceMs, boxes };
}

const byProbe = (a: BoxValue, b: BoxValue): number => (a.probeId < b.probeId ? -1 : 1);

/** A probe among the cocoons that stands for the present; of several the first by its id. */
export function freshBoxC({ boxes }: CocoonState, atMs: number): number | null {
  return boxes.find((box) => atMs - box.atMs <= box.freshMs)?.temperatureC ?? null;
}

/** Of several boxes the one that is worst off speaks for the chamber. */
function choose(
  estimateC: number | null,
  boxes: readonly BoxValue[],
  atMs: number,
  chamber: Chamber,
): number | null {
  const middleC = (chamber.bandC.low + chamber.bandC.high) / 2;
  let cocoonC = estimateC;
  let worstC = -1;
  for (const box of boxes) {
    if (atMs - box.atMs > box.freshMs) continue;
    const offC = Math.abs(box.temperatureC - middleC);
    if (offC > worstC) {
      worstC = offC;
      cocoonC = box.temperatureC;
    }
  }
  return cocoonC;
}
