import { SECOND_MS } from "../../shared/time.js";

/** Stretch of a probe's own time in which its readings are counted. */
const WINDOW_MS = 10 * SECOND_MS;
/** Our choice: one reading a second is twice the pace of the fastest configurable need. */
const READINGS_MOST = 10;
/** A probe set to speak faster than that may do so four times over. */
const OVER_INTERVAL = 4;
/** Windows that are remembered for each probe: over an hour of late readings, in any order. */
const WINDOWS = 512;

/**
 * Bounds what one probe can make us judge and store, by the time its readings carry and not by
 * the time they arrive: a backlog of a night may pour in within a second and loses nothing, a
 * probe gone wild that says 20 readings a second loses all but ten in each ten seconds.
 *
 * Bound: 512 counters for each configured probe.
 */
export class RateBound {
  readonly #probes = new Map<string, Counters>();

  /** @param probes the configured probes; of others nothing is admitted */
  constructor(probes: readonly Readonly<{ id: string; intervalMs: number }>[]) {
    for (const { id, intervalMs } of probes) {
      const most = Math.max(READINGS_MOST, Math.ceil((OVER_INTERVAL * WINDOW_MS) / intervalMs));
      const windows = new Float64Array(WINDOWS).fill(Number.NaN);
      this.#probes.set(id, { most, windows, counts: new Uint32Array(WINDOWS) });
    }
  }

  /** Count a reading; false when its stretch of time has had enough. */
  admits(probeId: string, takenAtMs: number): boolean {
    const counters = this.#probes.get(probeId);
    if (counters === undefined) return false;
    const { most, windows, counts } = counters;
    const window = Math.floor(takenAtMs / WINDOW_MS);
    const slot = ((window % WINDOWS) + WINDOWS) % WINDOWS;
    if (windows[slot] !== window) {
      windows[slot] = window;
      counts[slot] = 0;
    }
    if (counts[slot]! >= most) return false;
    counts[slot]! += 1;
    return true;
  }
}

/** Each window has its slot; one that comes 512 windows later takes it over. */
type Counters = Readonly<{ most: number; windows: Float64Array; counts: Uint32Array }>;
