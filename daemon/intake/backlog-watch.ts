import { MINUTE_MS, SECOND_MS } from "../../shared/time.js";

/** Silence after which what senders kept back has come in; our choice. */
const QUIET_MS = 3 * SECOND_MS;
/** A sender that is always late must not put off judging for ever; our choice. */
const POURS_MOST_MS = MINUTE_MS;
/** A reading older than that at its arrival was kept back; our choice. */
const OLD_MS = 2 * MINUTE_MS;

/**
 * Knows whether senders are pouring in what they kept back while they could not deliver.
 *
 * As long as they do, the judge must not be told the time, nor hear one probe's whole night
 * before the other's: a probe whose night still waits in a queue is not mute. All times but those
 * of readings are on the clock that never jumps.
 */
export class BacklogWatch {
  #sinceMs: number;
  #lastMs: number;

  /** @param nowMs the start of Drowse, after which senders connect again */
  constructor(nowMs: number) {
    this.#sinceMs = nowMs;
    this.#lastMs = nowMs;
  }

  /** The way to the senders has opened. */
  opened(nowMs: number): void {
    this.#sinceMs = nowMs;
    this.#lastMs = nowMs;
  }

  /** A reading has come, `ageMs` after it was taken. */
  saw(ageMs: number, nowMs: number): void {
    if (ageMs < OLD_MS) return;
    if (!this.isPouring(nowMs)) this.#sinceMs = nowMs;
    this.#lastMs = nowMs;
  }

  /** Until three seconds have brought nothing old, and for a minute at most. */
  isPouring(nowMs: number): boolean {
    return nowMs - this.#lastMs < QUIET_MS && nowMs - this.#sinceMs < POURS_MOST_MS;
  }
}
