import { expect, test } from "vitest";
import { makeFridge } from "../../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../../sensors/simulated/named-fridges.js";
import { seeded } from "../../../sensors/simulated/seeded.js";
import { APART_MS, courseOfSeed, HARD_COURSE, placeFaults, placeHarmless } from "./calendar.js";

const DAY_MS = 86_400_000;
const fridge = makeFridge(NAMED_SKETCHES[0]!);

function layOut(seed: number) {
  const random = seeded(seed, "calendar");
  const course = courseOfSeed(seed, HARD_COURSE);
  const placed = placeFaults(random, course, fridge, ["shed-air"], 0);
  return { course, placed, harmless: placeHarmless(random, course, placed, 0) };
}

test("in two hundred winters faults keep apart, begin when they may and end in time", () => {
  for (let seed = 1; seed <= 200; seed++) {
    const { placed, course } = layOut(seed);
    const firstDay = placed[0]!.startMs / DAY_MS;
    expect(firstDay, `seed ${seed}`).toBeGreaterThanOrEqual(seed % 5 === 0 ? 0.3 : 3);
    if (seed % 5 === 0) expect(firstDay, `seed ${seed}`).toBeLessThan(2);
    const gaps = placed.slice(1).map((p, i) => p.startMs - placed[i]!.endMs);
    expect(Math.min(...gaps), `seed ${seed}`).toBeGreaterThanOrEqual(APART_MS);
    expect(placed.at(-1)!.endMs, `seed ${seed}`).toBeLessThanOrEqual(course.days * DAY_MS);
  }
});

test("nothing harmless meets a fault, and no harmless opening lasts over four minutes", () => {
  for (let seed = 1; seed <= 50; seed++) {
    const { placed, harmless } = layOut(seed);
    for (const h of harmless) {
      const meets = placed.some((p) => h.endMs >= p.startMs && h.startMs <= p.endMs);
      expect(meets, `seed ${seed}`).toBe(false);
      if (h.kind === "door") expect(h.endMs - h.startMs).toBeLessThanOrEqual(240_000);
    }
  }
});
