import type { Reading } from "../../shared/reading.js";
import type { Chamber } from "./chamber.js";
import type { Fridge } from "./fridge.js";
import { relativeHumidityPct } from "./moist-air.js";
import type { RoomState } from "./room.js";
import { draw, drawBetween, drawNormal, type Seeded } from "./seeded.js";

/** A probe in or beside the simulated fridge, and how well it measures. */
export type ProbeSetup = Readonly<{
  id: string;
  place: "air" | "box" | "room";
  /** false for a temperature-only probe. */
  humidity: boolean;
  intervalS: number;
  /** First-order lag of the sensing element, s. */
  lagS: number;
  /** Independent noise of each reading, and a slow local wander of the air; standard deviations. */
  noiseK: number;
  wanderK: number;
  humidityNoisePct: number;
  /** Constant errors. */
  offsetK: number;
  humidityOffsetPct: number;
  /** Share of messages that never arrive. 0 to 1. */
  lossShare: number;
}>;

/** Step of what a probe reports, K and %RH. */
const TICK = 0.1;
/** How long a local wander of air lasts, s; our choice. */
const WANDER_S = 150;
/** A radio sensor's clock is not exact: each reading comes up to this much early or late, s;
 * our choice. */
const JITTER_S = 2;
/** The humidity element follows vapour faster than warmth, s; SHT4x datasheet (2020): 8 s. */
const VAPOUR_LAG_S = 8;

/** What a probe's element is at, and when it is to speak next. */
export type ProbeState = {
  readonly setup: ProbeSetup;
  readonly random: Seeded;
  readonly followShare: number;
  readonly followVapourShare: number;
  elementC: number;
  vapour: number;
  wander: number;
  lastSpokeS: number;
  readonly firstS: number;
  dueS: number;
  turn: number;
};

/** A probe whose first reading is due within its first interval. */
export function beginProbe(
  setup: ProbeSetup,
  temperatureC: number,
  vapour: number,
  stepS: number,
  random: Seeded,
): ProbeState {
  const firstS = JITTER_S + drawBetween(random, 0, setup.intervalS);
  return {
    setup,
    random,
    followShare: 1 - Math.exp(-stepS / setup.lagS),
    followVapourShare: 1 - Math.exp(-stepS / VAPOUR_LAG_S),
    elementC: temperatureC + 0.001,
    vapour,
    wander: 0.001,
    lastSpokeS: 0.5,
    firstS,
    dueS: firstS,
    turn: 0,
  };
}

/** Let the element follow its surroundings for one step. */
export function followProbe(
  probe: ProbeState,
  chamber: Chamber,
  fridge: Fridge,
  room: RoomState,
): void {
  const { place } = probe.setup;
  let aroundC = room.temperatureC;
  let vapour = room.vapourKgPerM3;
  if (place === "air") {
    aroundC = chamber.airC + fridge.probeWallShare * (chamber.wallC - chamber.airC);
    vapour = chamber.airVapour;
  } else if (place === "box") {
    // Laid among the cocoons, it touches them and the box's air about equally.
    aroundC = (chamber.boxC + chamber.cocoonC) / 2;
    vapour = chamber.boxVapour;
  }
  probe.elementC += (aroundC - probe.elementC) * probe.followShare;
  probe.vapour += (vapour - probe.vapour) * probe.followVapourShare;
}

/**
 * The reading that is due now, with noise and rounding; `lost` when it never arrives.
 *
 * Humidity is over water at the element's own temperature, as a capacitive sensor reports it,
 * so that a cold element in fresh warm air reads high; never outside 0 to 100.
 */
export function speakProbe(
  probe: ProbeState,
  atS: number,
  takenAtMs: number,
): { reading: Reading; lost: boolean } {
  const { setup, random } = probe;
  const keep = Math.exp(-(atS - probe.lastSpokeS) / WANDER_S);
  probe.wander = keep * probe.wander + Math.sqrt(1 - keep * keep) * drawNormal(random);
  probe.lastSpokeS = atS;
  probe.turn++;
  probe.dueS =
    probe.firstS + probe.turn * setup.intervalS + drawBetween(random, -JITTER_S, JITTER_S);

  const elementC = probe.elementC + setup.wanderK * probe.wander;
  const temperatureC = elementC + setup.offsetK + setup.noiseK * drawNormal(random);
  const truePct = relativeHumidityPct(probe.vapour, elementC);
  const sensedPct = truePct + setup.humidityOffsetPct + setup.humidityNoisePct * drawNormal(random);
  const humidityPct = Math.min(100, Math.max(0, sensedPct));
  const lost = draw(random) < setup.lossShare;
  const reading: Reading = {
    probeId: setup.id,
    takenAtMs,
    temperatureC: toTick(temperatureC),
    humidityPct: setup.humidity ? toTick(humidityPct) : null,
  };
  return { reading, lost };
}

function toTick(value: number): number {
  // Dividing by a whole number leaves 3.3, where multiplying by 0.1 would leave 3.3000000000000003.
  return Math.round(value / TICK) / Math.round(1 / TICK);
}
