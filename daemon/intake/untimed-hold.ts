import type { Reading } from "../../shared/reading.js";

/** What a probe said while nobody knew the time. */
export type Untimed = Readonly<{
  probeId: string;
  temperatureC: number | null;
  humidityPct: number | null;
  /** When it was taken, on the clock that never jumps, ms; below 0 before this boot. */
  monotonicMs: number;
  /** Called once the reading is stored; null where another reading of the message carries it. */
  acknowledge: (() => void) | null;
}>;

/** Our choice: six probes each 10 s fill it in over four hours. */
const HELD_MOST = 10_000;

/**
 * Keeps readings that can't be dated until the wall clock is set, oldest dropped first.
 *
 * Bound: 10,000 readings. What is dropped is not acknowledged, so a sender that must deliver has
 * it still.
 */
export class UntimedHold {
  #held: Untimed[] = [];
  #dropped = 0;

  /** How many are held, and how many were dropped since the last {@link stamp}. */
  get count(): Readonly<{ held: number; dropped: number }> {
    return { held: this.#held.length, dropped: this.#dropped };
  }

  hold(untimed: Untimed): void {
    this.#held.push(untimed);
    if (this.#held.length <= HELD_MOST) return;
    // A tenth at once, so that a full hold does not move 10,000 entries for each arrival.
    this.#held.splice(0, HELD_MOST / 10);
    this.#dropped += HELD_MOST / 10;
  }

  /**
   * Let all go, dated back from a wall clock that is right now.
   *
   * @param nowMs Unix time of this instant, ms
   * @param monotonicMs the same instant on the other clock
   * @returns oldest first
   */
  stamp(
    nowMs: number,
    monotonicMs: number,
  ): Array<{ reading: Reading; acknowledge: (() => void) | null }> {
    const stamped = this.#held.map((untimed) => ({
      reading: {
        probeId: untimed.probeId,
        takenAtMs: Math.round(nowMs - (monotonicMs - untimed.monotonicMs)),
        temperatureC: untimed.temperatureC,
        humidityPct: untimed.humidityPct,
      },
      acknowledge: untimed.acknowledge,
    }));
    this.#held = [];
    this.#dropped = 0;
    return stamped;
  }
}
