import type { Excursion } from "../../shared/excursion.js";
import type { Site } from "../../shared/site.js";
import type { NewLetter, Store } from "../store/store.js";
import { reminderDueAtMs } from "./reminder-schedule.js";

/** What a reminder is composed of. */
export type Latest = Readonly<{ cocoonC: number | null; airC: number | null }>;

/**
 * Queue a reminder for every rush that goes on and nobody has acknowledged, where one is due.
 *
 * @param compose composes a reminder
 * @returns how many were queued
 */
export function queueReminders(
  store: Store,
  site: Site,
  keepers: readonly string[],
  nowMs: number,
  compose: (excursion: Excursion, latest: Latest, earlier: readonly NewLetter[]) => NewLetter,
): number {
  let queued = 0;
  for (const excursion of store.excursions.open()) {
    if (excursion.urgency !== "rush" || excursion.acknowledgedAtMs !== null) continue;
    const earlier = store.letters.ofExcursion(excursion.id);
    const dueAtMs = reminderDueAtMs(earlier);
    if (dueAtMs === null || dueAtMs > nowMs) continue;
    store.letters.queue(compose(excursion, latestOf(excursion, store, site), earlier), keepers);
    queued += 1;
  }
  return queued;
}

/** The newest the store has on the chamber; the cocoons' as of the last finding otherwise. */
function latestOf(excursion: Excursion, store: Store, site: Site): Latest {
  const inChamber = site.probes.filter(({ chamberId }) => chamberId === excursion.chamberId);
  const read = (place: string): number | null => {
    const readings = inChamber
      .filter((probe) => probe.place === place)
      .flatMap(({ id }) => store.readings.latest(id) ?? []);
    return readings.sort((a, b) => b.takenAtMs - a.takenAtMs)[0]?.temperatureC ?? null;
  };
  return {
    cocoonC: read("box") ?? excursion.latest.cocoonC,
    airC: read("air") ?? excursion.latest.airC,
  };
}
