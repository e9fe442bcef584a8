import { uptime } from "node:os";
import { SECOND_MS } from "../shared/time.js";

/** The two clocks of a computer. A board with no clock battery wakes with the first one wrong. */
export type Clock = Readonly<{
  /** Unix time, ms; may be wrong after a power cut, and may jump. */
  nowMs(): number;
  /** Milliseconds since some fixed instant of this boot; never jumps, says nothing of the date. */
  monotonicMs(): number;
  /** The same, but it counts what the machine slept; to the second. */
  uptimeMs?(): number;
}>;

/** The clocks of the machine that this runs on. */
export const systemClock: Clock = {
  nowMs: () => Date.now(),
  monotonicMs: () => performance.now(),
  uptimeMs: () => uptime() * SECOND_MS,
};
