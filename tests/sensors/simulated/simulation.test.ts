import { expect, test } from "vitest";
import type { Fridge } from "../../../sensors/simulated/fridge.js";
import { type Outfit, outfitChamber } from "../../../sensors/simulated/outfit.js";
import type { Happening } from "../../../sensors/simulated/script.js";
import {
  beginSimulation,
  branchSimulation,
  type Plan,
  type Sample,
  simulate,
  stepSimulation,
  truthOf,
} from "../../../sensors/simulated/simulation.js";
import { BARE } from "./bare-fridge.js";

const HOUR_MS = 3_600_000;
const OUTFIT: Outfit = { intervalMs: 60_000, humidity: true, box: true };
const FRIDGE: Fridge = { ...BARE, box: { ...BARE.box, volumeM3: 0.002 } };

function planOf(seed: number, hours: number, script: readonly Happening[] = []): Plan {
  const probes = outfitChamber(FRIDGE, seed, "shed", OUTFIT);
  return { fridge: FRIDGE, seed, startMs: 0, endMs: hours * HOUR_MS, probes, script };
}

test("the same seed tells the same day, another seed another", () => {
  const day = (seed: number) => JSON.stringify([...simulate(planOf(seed, 24))]);
  expect(day(3)).toBe(day(3));
  expect(day(3)).not.toBe(day(4));
});

test("readings are in time order, and each probe's are a minute apart", () => {
  const samples = [...simulate(planOf(2, 12))];
  const times = samples.map((s) => s.reading.takenAtMs);
  expect(times).toEqual([...times].sort((a, b) => a - b));
  const air = samples.filter((s) => s.reading.probeId === "shed-air");
  expect(Math.abs(air.length - 720)).toBeLessThanOrEqual(1);
});

test("what chance does to one probe it does not do to the other", () => {
  const samples = [...simulate(planOf(6, 48))];
  const lost = (id: string) => {
    const own = samples.filter((s) => s.reading.probeId === id);
    return own.flatMap((s, i) => (s.arrived ? [] : [i]));
  };
  expect(lost("shed-air").length).toBeGreaterThan(20);
  expect(lost("shed-air")).not.toEqual(lost("shed-box"));
});

test("a branch with the same script lives the same life", () => {
  const script: Happening[] = [{ kind: "door", startMs: 0, endMs: 2 * HOUR_MS, share: 0.2 }];
  const one = beginSimulation(planOf(5, 24, script));
  for (let i = 0; i < 900; i++) stepSimulation(one);
  const two = branchSimulation(one, script);
  for (let i = 0; i < 3_000; i++) {
    stepSimulation(one);
    stepSimulation(two);
  }
  expect(truthOf(two)).toEqual(truthOf(one));
});

test("a branch with another script leaves its origin alone", () => {
  const one = beginSimulation(planOf(5, 24));
  const same = beginSimulation(planOf(5, 24));
  const dead: Happening = { kind: "compressor-dead", startMs: 0, endMs: 24 * HOUR_MS };
  const two = branchSimulation(one, [dead]);
  for (let i = 0; i < 4_000; i++) {
    stepSimulation(two);
    stepSimulation(one);
    stepSimulation(same);
  }
  expect(truthOf(one)).toEqual(truthOf(same));
  expect(truthOf(two).airC).toBeGreaterThan(truthOf(one).airC + 3);
});

test("a muted probe is unheard and the others are heard", () => {
  const mute: Happening = {
    kind: "mute",
    startMs: HOUR_MS,
    endMs: 3 * HOUR_MS,
    probeId: "shed-air",
  };
  const within = (s: Sample) => s.reading.takenAtMs > HOUR_MS && s.reading.takenAtMs < 3 * HOUR_MS;
  const samples = [...simulate(planOf(1, 4, [mute]))].filter(within);
  const heard = (id: string) => samples.filter((s) => s.arrived && s.reading.probeId === id).length;
  expect(heard("shed-air")).toBe(0);
  expect(heard("shed-box")).toBeGreaterThan(110);
});

test("each fault moves the air its own way", () => {
  const span = { startMs: 12 * HOUR_MS, endMs: 18 * HOUR_MS };
  const lastHour = (script: readonly Happening[]) => {
    const samples = [...simulate(planOf(9, 18, script))].filter(
      (s) => s.reading.takenAtMs > 17 * HOUR_MS,
    );
    return samples.reduce((sum, s) => sum + s.truth.airC, 0) / samples.length;
  };
  const healthyC = lastHour([]);
  expect(lastHour([{ kind: "door", ...span, share: 0.3 }])).toBeGreaterThan(healthyC + 3);
  expect(lastHour([{ kind: "compressor-dead", ...span }])).toBeGreaterThan(healthyC + 3);
  expect(lastHour([{ kind: "power-cut", ...span }])).toBeGreaterThan(healthyC + 3);
  expect(lastHour([{ kind: "contacts-welded", ...span }])).toBeLessThan(healthyC - 3);
  const creep: Happening = { kind: "dial-creep", ...span, perDayK: -12, mostK: -3 };
  expect(lastHour([creep])).toBeLessThan(healthyC - 2);
});
