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
import type { Site } from "../../../shared/site.js";
import { DAY_MS } from "../../../shared/time.js";
import { type Course, courseOfSeed, type Placed, placeFaults, placeHarmless } from "./calendar.js";
import { placeHappenings } from "./faults.js";
import type { Label } from "./label.js";
import { watchLabels } from "./label-watch.js";

/** What decides a winter. The same spec gives the same winter. */
export type WinterSpec = Readonly<{
  fridge: Fridge;
  seed: number;
  outfit: Outfit;
  course?: Course;
}>;

/** A winter's readings that arrived, in time order, and what was wrong when. */
export type Winter = Readonly<{
  spec: WinterSpec;
  site: Site;
  startMs: number;
  endMs: number;
  readings: readonly Reading[];
  labels: readonly Label[];
}>;

/** Midnight before the first night; our choice. */
export const WINTER_START_MS = Date.UTC(2025, 9, 20);
const CHAMBER_ID = "shed";

/** Live through a winter: simulate it whole and label its faults. A few seconds of work. */
export function liveWinter(spec: WinterSpec, look?: (sample: Sample) => void): Winter {
  const { fridge, seed, outfit } = spec;
  const course = spec.course ?? courseOfSeed(seed);
  const startMs = WINTER_START_MS;
  const endMs = startMs + course.days * DAY_MS;
  const probes = outfitChamber(fridge, seed, CHAMBER_ID, outfit);
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
  const site = siteOf(
    spec,
    probes.map((p) => p.id),
  );
  return { spec, site, startMs, endMs, readings, labels: watch.labels() };
}

/** Whoever comes to a door left ajar would shut it, so nobody does. */
function meetsAjarDoor(opening: Happening, placed: readonly Placed[]): boolean {
  return placed.some(
    (p) => p.fault.kind === "door-ajar" && opening.endMs >= p.startMs && opening.startMs <= p.endMs,
  );
}

function siteOf({ outfit }: WinterSpec, probeIds: readonly string[]): Site {
  return {
    name: "Quillmere shed",
    timezone: "Europe/London",
    chambers: [
      {
        id: CHAMBER_ID,
        species: "osmia-bicornis",
        bandC: { low: 1.1, high: 3.3 },
        humidityBandPct: { low: 60, high: 70 },
        cocoonLagMs: null,
      },
    ],
    probes: probeIds.map((id) => ({
      id,
      chamberId: CHAMBER_ID,
      place: id.endsWith("box") ? ("box" as const) : ("air" as const),
      intervalMs: outfit.intervalMs,
    })),
  };
}
