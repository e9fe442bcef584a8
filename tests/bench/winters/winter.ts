import { watchFridge } from "../../../sensors/simulated/behaviour.js";
import type { Fridge } from "../../../sensors/simulated/fridge.js";
import { openDaily } from "../../../sensors/simulated/habits.js";
import { type Outfit, outfitChamber } from "../../../sensors/simulated/outfit.js";
import type { Happening } from "../../../sensors/simulated/script.js";
import { seeded } from "../../../sensors/simulated/seeded.js";
import {
  beginSimulation,
  type Plan,
  type Sample,
  speakProbes,
  stepSimulation,
} from "../../../sensors/simulated/simulation.js";
import type { Reading } from "../../../shared/reading.js";
import { DAY_MS } from "../../../shared/time.js";
import { type Course, courseOfSeed, type Placed, placeFaults, placeHarmless } from "./calendar.js";
import { placeHappenings } from "./faults.js";
import { watchLabels } from "./label-watch.js";
import { WINTER_START_MS, type Winter } from "./labelled.js";
import { SHED_ID, shedSite } from "./shed-site.js";

/** What decides a winter. The same spec gives the same winter. */
export type WinterSpec = Readonly<{
  fridge: Fridge;
  seed: number;
  outfit: Outfit;
  course?: Course;
}>;

/** Live through a winter: simulate it whole and label its faults. A few seconds of work. */
export function liveWinter(spec: WinterSpec, look?: (sample: Sample) => void): Winter {
  const { fridge, seed, outfit } = spec;
  const course = spec.course ?? courseOfSeed(seed);
  const startMs = WINTER_START_MS;
  const endMs = startMs + course.days * DAY_MS;
  const probes = outfitChamber(fridge, seed, SHED_ID, outfit);
  const random = seeded(seed, `calendar ${fridge.name}`);
  const placed = placeFaults(
    random,
    course,
    fridge,
    probes.map((p) => p.id),
    startMs,
  );
  const openings = openDaily(
    seeded(seed, `openings ${fridge.name}`),
    fridge.openingsPerDay,
    startMs,
    endMs,
  );
  const healthy = [
    ...openings.filter((o) => !meetsAjarDoor(o, placed)),
    ...placeHarmless(random, course, placed, startMs),
  ];
  const faults = placed.flatMap((p) => placeHappenings(p.fault.happenings, p.startMs));
  const plan: Plan = { fridge, seed, startMs, endMs, probes, script: [...healthy, ...faults] };

  const readings: Reading[] = [];
  const watch = watchLabels(placed, healthy, watchFridge(fridge).meanC);
  const simulation = beginSimulation(plan);
  const endS = (endMs - startMs) / 1_000;
  while (simulation.atS < endS) {
    watch.before(simulation);
    stepSimulation(simulation);
    watch.after(simulation);
    for (const sample of speakProbes(simulation)) {
      if (sample.arrived) readings.push(sample.reading);
      look?.(sample);
    }
  }
  const site = shedSite(
    probes.map((p) => p.id),
    outfit.intervalMs,
  );
  const labels = watch.labels();
  const { humidity } = outfit;
  return { fridgeName: fridge.name, seed, humidity, site, startMs, endMs, readings, labels };
}

/** Whoever comes to a door left ajar would shut it, so nobody does. */
function meetsAjarDoor(opening: Happening, placed: readonly Placed[]): boolean {
  return placed.some(
    (p) => p.fault.kind === "door-ajar" && opening.endMs >= p.startMs && opening.startMs <= p.endMs,
  );
}
