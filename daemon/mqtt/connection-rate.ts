import { SECOND_MS } from "../../shared/time.js";

/** Stretch in which connections of one address are counted. */
const WINDOW_MS = 10 * SECOND_MS;
/** Our choice: fifty sensors behind one address connect anew at once after a power cut. */
const CONNECTIONS_MOST = 60;
/** Addresses counted apart; one more clears the count of all. Our choice. */
const ADDRESSES_KEPT = 1_000;

/**
 * Bounds how often one address may connect, so that guessing passwords, or a board that restarts
 * for ever, costs little. Times are on the clock that never jumps, ms.
 */
export class ConnectionRate {
  readonly #counts = new Map<string, number>();
  #window = Number.NEGATIVE_INFINITY;

  /** Count a connection; false when its address has had enough for now. */
  admits(address: string, nowMs: number): boolean {
    const window = Math.floor(nowMs / WINDOW_MS);
    if (window !== this.#window || this.#counts.size >= ADDRESSES_KEPT) this.#counts.clear();
    this.#window = window;
    const count = (this.#counts.get(address) ?? 0) + 1;
    this.#counts.set(address, count);
    return count <= CONNECTIONS_MOST;
  }
}
