import { MINUTE_MS } from "../shared/time.js";
import { type HumidityAlone, isFresh } from "./humidity-alone.js";
import type { Heard } from "./lead-air.js";

/** Slots in which humidity is judged: nothing about it is a matter of minutes. Our choice. */
const SLOT_MS = 5 * MINUTE_MS;

/** Sums over the slot under way, of which the means are judged when it is over. */
export type Gathering = Readonly<{
  /** End of the slot, Unix ms; 0 before the first. */
  slotEndMs: number;
  /** How long the shortest-lived value of its last moment stood, ms; 0 before the first. */
  freshMs: number;
  /** The cocoons, and how many moments they were known in. */
  cocoonN: number;
  cocoonSumC: number;
  /** Vapour pressure of the air. */
  airN: number;
  airSumHpa: number;
  wallN: number;
  wallSumC: number;
  /** Probes in boxes that measure both, in order of their ids. */
  boxes: readonly BoxSums[];
}>;

type BoxSums = Readonly<{
  probeId: string;
  freshMs: number;
  n: number;
  sumC: number;
  sumPct: number;
}>;

export const NOTHING_GATHERED: Gathering = {
  slotEndMs: 0,
  freshMs: 0,
  cocoonN: 0,
  cocoonSumC: 0,
  airN: 0,
  airSumHpa: 0,
  wallN: 0,
  wallSumC: 0,
  boxes: [],
};

/** What one moment adds; `airHpa` is null where the air told no humidity. */
type Moment = Readonly<{
  atMs: number;
  cocoonC: number;
  airHpa: number | null;
  heard: readonly Heard[];
  /** As in the gathering, of the moment. */
  freshMs: number;
  alone: readonly HumidityAlone[];
}>;

/** Add a moment to the slot under way; one of a later slot begins afresh. */
export function gather(before: Gathering, moment: Moment): Gathering {
  const { atMs, cocoonC, airHpa, freshMs } = moment;
  const slotEndMs = slotEndOf(atMs);
  const sums = slotEndMs === before.slotEndMs ? before : NOTHING_GATHERED;
  let { boxes, wallN, wallSumC } = sums;
  for (const value of moment.heard) {
    if (value.place === "box" && value.humidityPct !== null)
      boxes = addBox(boxes, value, value.temperatureC, value.humidityPct);
    if (value.place !== "wall") continue;
    wallN++;
    wallSumC += value.temperatureC;
  }
  // What a probe in a box says of humidity alone holds at the cocoons, whose warmth is known.
  for (const value of moment.alone)
    if (value.place === "box" && isFresh(value, atMs))
      boxes = addBox(boxes, value, cocoonC, value.humidityPct);
  // Written out: this runs at every moment.
  return {
    slotEndMs,
    freshMs,
    cocoonN: sums.cocoonN + 1,
    cocoonSumC: sums.cocoonSumC + cocoonC,
    airN: sums.airN + (airHpa === null ? 0 : 1),
    airSumHpa: sums.airSumHpa + (airHpa ?? 0),
    wallN,
    wallSumC,
    boxes,
  };
}

/** Add what walls told in a moment in which no cocoons were seen; never begins a slot. */
export function gatherWall(sums: Gathering, atMs: number, heard: readonly Heard[]): Gathering {
  if (slotEndOf(atMs) !== sums.slotEndMs) return sums;
  let { wallN, wallSumC } = sums;
  for (const { place, temperatureC } of heard) {
    if (place !== "wall") continue;
    wallN++;
    wallSumC += temperatureC;
  }
  return wallN === sums.wallN ? sums : { ...sums, wallN, wallSumC };
}

const slotEndOf = (atMs: number): number => Math.ceil(atMs / SLOT_MS) * SLOT_MS;

function addBox(
  boxes: readonly BoxSums[],
  { probeId, freshMs }: Pick<Heard, "probeId" | "freshMs">,
  boxC: number,
  humidityPct: number,
): readonly BoxSums[] {
  const at = boxes.findIndex((b) => b.probeId === probeId);
  if (at < 0) {
    const fresh = { probeId, freshMs, n: 1, sumC: boxC, sumPct: humidityPct };
    return [...boxes, fresh].sort((a, b) => (a.probeId < b.probeId ? -1 : 1));
  }
  const { n, sumC, sumPct } = boxes[at]!;
  const sums = { sumC: sumC + boxC, sumPct: sumPct + humidityPct };
  return boxes.with(at, { probeId, freshMs, n: n + 1, ...sums });
}
