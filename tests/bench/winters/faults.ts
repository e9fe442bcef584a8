import type { Fridge } from "../../../sensors/simulated/fridge.js";
import type { Happening } from "../../../sensors/simulated/script.js";
import {
  draw,
  drawBetween,
  drawOne,
  drawRatio,
  type Seeded,
} from "../../../sensors/simulated/seeded.js";
import { DAY_MS, HOUR_MS, MINUTE_MS, SECOND_MS } from "../../../shared/time.js";
import type { LabelKind } from "./label.js";

/** A fault before it has a place in the winter: its times count from its own start. */
export type Fault = Readonly<{
  kind: LabelKind;
  lengthMs: number;
  happenings: readonly Happening[];
  probeId: string | null;
  doorShare: number | null;
}>;

/** Left open for 10 min to 8 h, more or less far; most begin with somebody at the open door. */
export function drawDoorAjar(random: Seeded, fridge: Fridge): Fault {
  const lengthMs = Math.round(drawRatio(random, 10.5, 480) * MINUTE_MS);
  const share = drawRatio(random, fridge.ajarShare.low, fridge.ajarShare.high);
  const usedMs = drawBetween(random, 5, 40) * SECOND_MS;
  const ajar: Happening = { kind: "door", startMs: 0, endMs: lengthMs, share };
  const used: Happening = { kind: "door", startMs: 0, endMs: usedMs, share: 0.8 };
  const happenings = draw(random) < 0.7 ? [used, ajar] : [ajar];
  return { kind: "door-ajar", lengthMs, happenings, probeId: null, doorShare: share };
}

/** The compressor gives nothing for 12 to 36 h, the door shut. */
export function drawCompressorDead(random: Seeded): Fault {
  const lengthMs = Math.round(drawBetween(random, 12, 36) * HOUR_MS);
  const happenings: Happening[] = [{ kind: "compressor-dead", startMs: 0, endMs: lengthMs }];
  return { kind: "cooling-lost", lengthMs, happenings, probeId: null, doorShare: null };
}

/** The thermostat creeps colder for days, or its contacts weld and it cools without end. */
export function drawOverCooling(random: Seeded): Fault {
  const slow = draw(random) < 0.6;
  if (!slow) {
    const lengthMs = Math.round(drawBetween(random, 18, 40) * HOUR_MS);
    const happenings: Happening[] = [{ kind: "contacts-welded", startMs: 0, endMs: lengthMs }];
    return { kind: "over-cooling", lengthMs, happenings, probeId: null, doorShare: null };
  }
  const perDayK = -drawRatio(random, 0.6, 3);
  const mostK = -drawBetween(random, 4, 6);
  const lengthMs = Math.round((mostK / perDayK) * DAY_MS + 18 * HOUR_MS);
  const happenings: Happening[] = [
    { kind: "dial-creep", startMs: 0, endMs: lengthMs, perDayK, mostK },
  ];
  return { kind: "over-cooling", lengthMs, happenings, probeId: null, doorShare: null };
}

/** One probe, or all of a chamber, unheard for 1 to 30 h. */
export function drawMute(random: Seeded, probeIds: readonly string[]): Fault {
  const lengthMs = Math.round(drawRatio(random, 1, 30) * HOUR_MS);
  const probeId = draw(random) < 0.3 ? null : drawOne(random, probeIds);
  const happenings: Happening[] = [{ kind: "mute", startMs: 0, endMs: lengthMs, probeId }];
  return { kind: "probe-mute", lengthMs, happenings, probeId, doorShare: null };
}

/** The same happenings, begun at `atMs`. */
export function placeHappenings(happenings: readonly Happening[], atMs: number): Happening[] {
  return happenings.map((h) => ({ ...h, startMs: h.startMs + atMs, endMs: h.endMs + atMs }));
}
