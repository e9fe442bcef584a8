import type { Reading } from "../../shared/reading.js";
import type { Fridge } from "./fridge.js";
import { openDaily } from "./habits.js";
import { type Outfit, outfitChamber } from "./outfit.js";
import type { Happening } from "./script.js";
import { seeded } from "./seeded.js";
import { type Sample, simulate } from "./simulation.js";

/** A simulated chamber as its radio sensors would publish it. */
export type StationPlan = Readonly<{
  fridge: Fridge;
  seed: number;
  /** Probes are called `{chamberId}-air` and `{chamberId}-box`. */
  chamberId: string;
  outfit: Outfit;
  /** Simulated time: what readings are stamped with. */
  startMs: number;
  endMs: number;
  /** What goes wrong, in simulated time; ordinary openings come by themselves. */
  script: readonly Happening[];
  /** Simulated seconds in one second of the clock on the wall; 60 makes a minute of an hour. */
  haste: number;
  /** Before each probe's place, e.g. `quillmere/shed` gives `quillmere/shed/air`. */
  topicBase: string;
}>;

/** One message to publish, and when. */
export type Publication = Readonly<{
  topic: string;
  /** JSON: `temperature` in °C, `humidity` in %RH where measured, `time` as RFC 3339. */
  payload: string;
  reading: Reading;
  /** Wait until this long after the first publication's moment, on the wall's clock, ms. */
  dueMs: number;
  truth: Sample["truth"];
}>;

/**
 * The messages of a simulated chamber in the order to publish them; lost ones are left out.
 *
 * Pure: it knows no clock. Whoever publishes keeps pace by `dueMs`.
 *
 * @throws {RangeError} when `haste` is not above 0
 */
export function* runStation(plan: StationPlan): Generator<Publication, void, undefined> {
  const { fridge, seed, chamberId, outfit, startMs, endMs, haste } = plan;
  if (!(haste > 0)) throw new RangeError(`haste ${haste} is not above 0`);
  const openings = openDaily(seeded(seed, "openings"), fridge.openingsPerDay, startMs, endMs);
  const probes = outfitChamber(fridge, seed, chamberId, outfit);
  const script = [...openings, ...plan.script];
  for (const { reading, arrived, truth } of simulate({ ...plan, probes, script })) {
    if (!arrived) continue;
    const place = probes.find((p) => p.id === reading.probeId)?.place ?? "air";
    yield {
      topic: `${plan.topicBase}/${place}`,
      payload: toPayload(reading),
      reading,
      dueMs: (reading.takenAtMs - startMs) / haste,
      truth,
    };
  }
}

/** A reading as a sensor would word it. */
function toPayload({ temperatureC, humidityPct, takenAtMs }: Reading): string {
  return JSON.stringify({
    ...(temperatureC === null ? {} : { temperature: temperatureC }),
    ...(humidityPct === null ? {} : { humidity: humidityPct }),
    time: new Date(takenAtMs).toISOString(),
  });
}
