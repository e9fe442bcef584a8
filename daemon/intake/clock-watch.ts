import { isSaneClock, MINUTE_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";

/** Our choice: less is the slow drift of a board that asks the time once a day. */
const JUMP_LEAST_MS = 2 * MINUTE_MS;

/** Notices that the wall clock was set, by the clock that never jumps. */
export class ClockWatch {
  readonly #clock: Clock;
  /** The wall clock less the steady one; null while the wall clock is not set. */
  #aheadMs: number | null = null;
  #asleepMs = 0;

  constructor(clock: Clock) {
    this.#clock = clock;
  }

  /**
   * By how much the clock was set since the last look, whole ms; 0 while it runs as it should. That
   * it was not set at all before is no jump, and nor is a machine that slept.
   *
   * @param nowMs the wall clock
   * @param monotonicMs the same instant on the clock that never jumps
   */
  jumpMs(nowMs: number, monotonicMs: number): number {
    const before = this.#aheadMs;
    const aheadMs = isSaneClock(nowMs) ? nowMs - monotonicMs : null;
    if (before === null || aheadMs === null) {
      this.#aheadMs = aheadMs;
      this.#asleepMs = this.#sleepMs(monotonicMs);
      return 0;
    }
    if (Math.abs(aheadMs - before) < JUMP_LEAST_MS) return 0;
    this.#aheadMs = aheadMs;
    const asleepMs = this.#sleepMs(monotonicMs);
    const jumpMs = aheadMs - before - (asleepMs - this.#asleepMs);
    this.#asleepMs = asleepMs;
    // The steady clock has fractions, which the wall clock and the store have not.
    return Math.abs(jumpMs) < JUMP_LEAST_MS ? 0 : Math.round(jumpMs);
  }

  #sleepMs(monotonicMs: number): number {
    return (this.#clock.uptimeMs?.() ?? monotonicMs) - monotonicMs;
  }
}
