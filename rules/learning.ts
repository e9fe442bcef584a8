import type { Chamber } from "../shared/site.js";
import { MINUTE_MS } from "../shared/time.js";
import { ASSUMED_LAG_MS, cocoonLagOf } from "./constants.js";
import { beginLagLearning, type LagLearning, stepLagLearning } from "./learned-lag.js";
import { NOTHING_LEARNED, stepWarming, type WarmingLearning } from "./learned-warming.js";

/** What a chamber teaches of itself. */
export type Learning = Readonly<{
  lag: LagLearning | null;
  warming: WarmingLearning;
  /** When it last learned, ms. */
  atMs: number;
  /** The lag in use for cocoons that no probe lies among, ms. */
  cocoonLagMs: number;
}>;

export const BEGIN_LEARNING: Learning = {
  lag: null,
  warming: NOTHING_LEARNED,
  atMs: 0,
  cocoonLagMs: ASSUMED_LAG_MS,
};

/** It learns this often at most, a little less than a probe's minute; our choice. */
const EACH_MS = MINUTE_MS - 5_000;

/** What was known of a chamber at one moment. */
export type Lesson = Readonly<{
  atMs: number;
  airC: number;
  /** A probe among the cocoons, and the room; null where none tells. */
  boxC: number | null;
  roomC: number | null;
  /** Whether its compressor is known to be dead, with the door shut. */
  isOff: boolean;
}>;

/** Learn from one moment. */
export function learn(learning: Learning, lesson: Lesson): Learning {
  const { atMs, airC, boxC, roomC, isOff } = lesson;
  if (atMs - learning.atMs < EACH_MS) return learning;
  return {
    lag:
      boxC === null
        ? learning.lag
        : stepLagLearning(learning.lag ?? beginLagLearning(), atMs, airC, boxC),
    warming: stepWarming(learning.warming, atMs, airC, roomC, isOff),
    atMs,
    cocoonLagMs: learning.cocoonLagMs,
  };
}

/** Put what was learned to use. */
export function useLearned(learning: Learning, chamber: Chamber): Learning {
  const { ms: cocoonLagMs } = cocoonLagOf(chamber, learning.lag);
  return cocoonLagMs === learning.cocoonLagMs ? learning : { ...learning, cocoonLagMs };
}
