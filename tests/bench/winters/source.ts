import type { Fridge } from "../../../sensors/simulated/fridge.js";
import { liveApart } from "./apart/winter.js";
import { type Course, courseOfSeed } from "./calendar.js";
import type { Winter } from "./labelled.js";
import { WaterTruth } from "./water.js";
import { liveWinter } from "./winter.js";

/** A winter lived through; the truth of its water only where that is followed. */
type Lived = Readonly<{ winter: Winter; water: WaterTruth | null }>;

/** A fridge and its winters, each lived through when it is called for. */
type FridgeWinters = Readonly<{ name: string; winters: readonly (() => Lived)[] }>;

/** Where winters come from: fridge by fridge. */
export type Source = Iterable<FridgeWinters>;

/** How a probe in the air speaks. */
type Speaking = Readonly<{ intervalMs: number; humidity: boolean }>;

/** Which winters of the simulated fridges. */
export type SimulatedWinters = Speaking &
  Readonly<{
    fridges: readonly Fridge[];
    seeds: readonly number[];
    /** A second probe, in the box. */
    box: boolean;
    course: Course;
  }>;

/** A winter for each fridge and seed, of the physics in `sensors/simulated`. */
export function simulatedWinters(which: SimulatedWinters): Source {
  const { fridges, seeds, intervalMs, humidity, box } = which;
  return fridges.map((fridge) => ({
    name: fridge.name,
    winters: seeds.map((seed) => () => {
      const course = courseOfSeed(seed, which.course);
      const spec = { fridge, seed, outfit: { intervalMs, humidity, box }, course };
      const water = new WaterTruth();
      return { winter: liveWinter(spec, (sample) => water.look(sample)), water };
    }),
  }));
}

/** A winter for each seed, of a physics written apart; each seed is a fridge of its own. */
export function apartWinters(seeds: readonly number[], speaking: Speaking): Source {
  return seeds.map((seed) => ({
    name: `apart ${seed}`,
    winters: [() => ({ winter: liveApart({ seed, ...speaking }), water: null })],
  }));
}
