import type { BatterySaid } from "../../sensors/battery.js";
import { DAY_MS } from "../../shared/time.js";
import { type BatteryNoted, batteryKey, isLow } from "../probes/battery.js";

/** A change that is worth a write to the card, in its unit; our choice. */
const WORTH: Readonly<Record<BatterySaid["unit"], number>> = { "%": 1, V: 0.05 };

/**
 * Picks from all that probes say of their batteries what is worth keeping: what has changed, and
 * something once a day, so that its age is known to a day. A battery lasts for months, and a store
 * on a flash card too.
 */
export class BatteryNotes {
  readonly #noted = new Map<string, BatteryNoted>();

  /** @returns the fact to store with the next commit; null where nothing is new */
  note(probeId: string, said: BatterySaid, atMs: number): readonly [string, string] | null {
    const before = this.#noted.get(probeId);
    if (before !== undefined && !isNews(before, said, atMs)) return null;
    const noted = { ...said, atMs };
    this.#noted.set(probeId, noted);
    return [batteryKey(probeId), JSON.stringify(noted)];
  }
}

function isNews(before: BatteryNoted, said: BatterySaid, atMs: number): boolean {
  if (before.unit !== said.unit || isLow(before) !== isLow(said)) return true;
  const changed = Math.abs(said.value - before.value);
  return changed >= WORTH[said.unit] || atMs - before.atMs >= DAY_MS;
}
