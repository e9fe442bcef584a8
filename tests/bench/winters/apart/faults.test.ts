import { expect, test } from "vitest";
import { beginChance } from "./chance.js";
import { type Calendar, placeFaults, WINTER_DAYS } from "./faults.js";
import { drawFridge } from "./fridge.js";
import { openDaily } from "./household.js";

const DAY_S = 86_400;
const SEEDS = Array.from({ length: 60 }, (_, i) => 900_101 + i);

function layOut(seed: number): Calendar & { openingsDrawn: number } {
  const fridge = drawFridge(seed);
  const chance = beginChance(seed, "calendar");
  const openings = openDaily(chance, fridge.household, WINTER_DAYS);
  return { ...placeFaults(chance, fridge, openings), openingsDrawn: openings.length };
}

test("a winter has eighteen faults, more than a day apart, doors from the fifth day on", () => {
  for (const seed of SEEDS) {
    const { faults } = layOut(seed);
    const count = (kind: string) => faults.filter((f) => f.kind === kind).length;
    const counts = ["door-ajar", "cooling-lost", "over-cooling", "probe-mute"].map(count);
    expect(counts, `seed ${seed}`).toEqual([12, 2, 1, 3]);
    const gapsS = faults.slice(1).map((f, i) => f.startS - faults[i]!.endS);
    expect(Math.min(...gapsS), `seed ${seed}`).toBeGreaterThan(DAY_S);
    const firstDoor = faults.find(({ kind }) => kind === "door-ajar")!;
    expect(firstDoor.startS, `seed ${seed}`).toBeGreaterThanOrEqual(5 * DAY_S);
    expect(faults.at(-1)!.endS, `seed ${seed}`).toBeLessThan(WINTER_DAYS * DAY_S);
  }
});

test("each fault lasts as long as its kind may", () => {
  const spansH = { "door-ajar": [1 / 6, 3], "cooling-lost": [8, 14], "probe-mute": [2, 6] };
  for (const seed of SEEDS)
    for (const fault of layOut(seed).faults) {
      if (fault.kind === "over-cooling") continue;
      const [least, most] = spansH[fault.kind];
      const hours = (fault.endS - fault.startS) / 3_600;
      expect(hours, `seed ${seed}`).toBeGreaterThanOrEqual(least!);
      expect(hours, `seed ${seed}`).toBeLessThanOrEqual(most!);
    }
});

test("nobody comes to a door left open, and a left door stands no wider than it was swung", () => {
  for (const seed of SEEDS) {
    const { faults, openings } = layOut(seed);
    for (const fault of faults) {
      if (fault.kind !== "door-ajar") continue;
      const meanwhile = openings.filter(
        (o) => o.startS + o.lengthS >= fault.startS && o.startS <= fault.endS,
      );
      expect(meanwhile, `seed ${seed}`).toEqual([fault.after]);
      expect(fault.gapMm).toBeLessThanOrEqual(fault.after.swingMm);
    }
  }
});

test("people open six times a day on average, for 5 to 90 s, one after another", () => {
  const perDay = SEEDS.map((seed) => layOut(seed).openingsDrawn / WINTER_DAYS);
  // What is usual in a household: common practice, no source.
  const mean = perDay.reduce((a, b) => a + b, 0) / perDay.length;
  // Households from 4.8 to 7.2 have a deviation of 0.7, their mean over sixty one of 0.09.
  expect(Math.abs(mean - 6)).toBeLessThan(0.4);
  for (const seed of SEEDS) {
    const { openings } = layOut(seed);
    const lengthsS = openings.map((o) => o.lengthS);
    expect(Math.min(...lengthsS), `seed ${seed}`).toBeGreaterThanOrEqual(5);
    expect(Math.max(...lengthsS), `seed ${seed}`).toBeLessThanOrEqual(90);
    const pausesS = openings.slice(1).map((o, i) => {
      const last = openings[i]!;
      return o.startS - last.startS - last.lengthS;
    });
    expect(Math.min(...pausesS), `seed ${seed}`).toBeGreaterThan(0);
  }
});
