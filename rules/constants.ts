import type { Chamber, Span } from "../shared/site.js";
import { HOUR_MS } from "../shared/time.js";
import { type LagLearning, learnedLag } from "./learned-lag.js";
import { learnedWarming, type WarmingLearning } from "./learned-warming.js";

/** A time constant of a chamber, ms, where it may lie, and how it is known. */
export type Constant = Readonly<{
  ms: number;
  spanMs: Span;
  from: "set" | "learned" | "assumed";
}>;

/** Lag of a box of cocoons behind the air where nobody has set or learned one: our choice. */
export const ASSUMED_LAG_MS = HOUR_MS;
/** How far off a lag that somebody set may be, and one that nobody did, as factors; our choice. */
const SET_DOUBT = 1.25;
const ASSUMED_DOUBT = 2;
/** A shut fridge that does not cool, time constant of its way to the room; our choice. */
const ASSUMED_WARMING_MS: Span = { low: 3 * HOUR_MS, high: 16 * HOUR_MS };

/** Lag of the cocoons behind the air: as the keeper set it, else as learned, else assumed. */
export function cocoonLagOf(chamber: Chamber, learning: LagLearning | null): Constant {
  const set = chamber.cocoonLagMs;
  if (set !== null) return around(set, SET_DOUBT, "set");
  const learned = learning === null ? null : learnedLag(learning);
  if (learned === null || !learned.isGoodEnough)
    return around(ASSUMED_LAG_MS, ASSUMED_DOUBT, "assumed");
  return { ms: learned.lagMs, spanMs: learned.spanMs, from: "learned" };
}

/** How fast the shut chamber warms to its room when it is not cooled: as learned, else assumed. */
export function warmingOf(learning: WarmingLearning): Constant {
  const learned = learnedWarming(learning);
  if (learned?.isGoodEnough === true)
    return { ms: learned.lagMs, spanMs: learned.spanMs, from: "learned" };
  const { low, high } = ASSUMED_WARMING_MS;
  return { ms: Math.sqrt(low * high), spanMs: ASSUMED_WARMING_MS, from: "assumed" };
}

function around(ms: number, factor: number, from: "set" | "assumed"): Constant {
  return { ms, spanMs: { low: ms / factor, high: ms * factor }, from };
}
