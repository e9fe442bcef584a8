import { describe, expect, test } from "vitest";
import { watchFridge } from "../../../sensors/simulated/behaviour.js";
import type { Fridge } from "../../../sensors/simulated/fridge.js";
import { openDaily } from "../../../sensors/simulated/habits.js";
import { makeFridge } from "../../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../../sensors/simulated/named-fridges.js";
import { outfitChamber } from "../../../sensors/simulated/outfit.js";
import { drawFridge, isOrdinary } from "../../../sensors/simulated/random-fridge.js";
import { seeded } from "../../../sensors/simulated/seeded.js";
import { type Sample, simulate } from "../../../sensors/simulated/simulation.js";

const DAY_MS = 86_400_000;
const DAYS = 6;

/** Six days of a fridge with ordinary openings, by its air probe. */
function liveDays(fridge: Fridge): Sample[] {
  const outfit = { intervalMs: 60_000, humidity: true, box: false };
  const probes = outfitChamber(fridge, 1, "shed", outfit);
  const endMs = DAYS * DAY_MS;
  const script = openDaily(seeded(1, "openings"), fridge.openingsPerDay, 0, endMs);
  return [...simulate({ fridge, seed: 1, startMs: 0, endMs, probes, script })];
}

/** Minutes of each defrost, from its beginning until the air is back at what it began from. */
function defrostsOf(samples: readonly Sample[]): { riseK: number; minutes: number }[] {
  return samples.flatMap((sample, i) => {
    if (!sample.truth.defrosting || samples[i - 1]?.truth.defrosting !== false) return [];
    const before = samples.slice(Math.max(0, i - 90), i).map((s) => s.reading.temperatureC ?? 0);
    const after = samples.slice(i, i + 60).map((s) => s.reading.temperatureC ?? 0);
    const usualTopC = [...before].sort((a, b) => a - b)[Math.floor(before.length * 0.9)] ?? 0;
    const doneAt = samples.slice(i).findIndex((s) => !s.truth.defrosting);
    const backIn = after.slice(doneAt).findIndex((c) => c <= usualTopC);
    return [{ riseK: Math.max(...after) - usualTopC, minutes: doneAt + backIn }];
  });
}

describe.each(NAMED_SKETCHES.map((sketch) => ({ name: sketch.name, sketch })))("$name", (it) => {
  const fridge = makeFridge(it.sketch);

  test("cycles and defrosts as an ordinary fridge does, at the dial it was given", () => {
    const seen = watchFridge(fridge);
    expect(isOrdinary(seen), JSON.stringify(seen)).toBe(true);
    expect(Math.abs(seen.meanC - it.sketch.meanC)).toBeLessThan(0.1);
    expect(Math.abs(seen.halfSwingK / it.sketch.halfSwingK - 1)).toBeLessThan(0.1);
  });

  test("in use, it defrosts two to four times a day, and that is over in half an hour", () => {
    const defrosts = defrostsOf(liveDays(fridge));
    const perDay = defrosts.length / DAYS;
    expect(perDay).toBeGreaterThan(1.4);
    expect(perDay).toBeLessThan(4.4);
    for (const { minutes } of defrosts) expect(minutes).toBeLessThanOrEqual(30);
    const rises = defrosts.map((d) => d.riseK).sort((a, b) => a - b);
    const median = rises[Math.floor(rises.length / 2)]!;
    expect(median).toBeGreaterThan(2);
    expect(median).toBeLessThan(9);
  });

  test("in use, cocoons stay within the fridge's habits", () => {
    const cocoonC = liveDays(fridge)
      .slice(1_440)
      .map((s) => s.truth.cocoonC);
    expect(Math.min(...cocoonC)).toBeGreaterThan(0.5);
    expect(Math.max(...cocoonC)).toBeLessThan(4.5);
  });
});

test("drawn fridges are ordinary, differ, and come back by their seed", () => {
  const fridges = [3, 7].map((seed) => drawFridge(seed));
  for (const fridge of fridges) expect(isOrdinary(watchFridge(fridge))).toBe(true);
  expect(new Set(fridges.map((f) => f.volumeM3)).size).toBe(2);
  expect(drawFridge(7)).toEqual(fridges[1]);
});
