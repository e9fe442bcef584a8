import type { Urgency } from "../shared/excursion.js";
import type { Span } from "../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import { type Hold, heldFor, hold } from "./hold.js";
import { NEVER_SUITABLE_C } from "./never-suitable.js";

/** How long the cocoons have been how warm. */
export type Warmth = Readonly<{
  above: Hold;
  plainlyAbove: Hold;
  hot: Hold;
  unsuitable: Hold;
  back: Hold;
  /** The air is plainly colder than the cocoons: they are on their way back by themselves. */
  cooling: boolean;
}>;

export const AT_EASE: Warmth = {
  above: null,
  plainlyAbove: null,
  hot: null,
  unsuitable: null,
  back: null,
  cooling: false,
};

// All our choice, in K above the band's upper edge: a fridge that runs a little warm is a matter for
// the digest, a day of it or 1.7 K (5 °C for the trade's band) for a visit, 10 °C for running.
const ABOVE_K = 0.3;
const PLAINLY_K = 0.7;
const HOT_K = 1.7;
const ABOVE_MS = HOUR_MS;
const PLAINLY_MS = 24 * HOUR_MS;
const HOT_MS = 30 * MINUTE_MS;
const UNSUITABLE_MS = 15 * MINUTE_MS;
/** Cocoons that the air already cools need nobody, unless they stay as hot for so long. */
const COOLING_K = 0.5;
const HOT_THOUGH_COOLING_MS = 90 * MINUTE_MS;

/**
 * Follow the warmth by one moment.
 *
 * @param airC mean of the last air, °C; null where no air is measured
 */
export function stepWarmth(
  warmth: Warmth,
  cocoonC: number,
  band: Span,
  atMs: number,
  airC: number | null = null,
): Warmth {
  const overK = cocoonC - band.high;
  const isMild = overK <= 0 && cocoonC < NEVER_SUITABLE_C;
  if (isMild && warmth.back !== null && warmth.above === null && warmth.unsuitable === null)
    return warmth;
  return {
    above: hold(warmth.above, overK > (warmth.above === null ? ABOVE_K : 0), atMs),
    plainlyAbove: hold(warmth.plainlyAbove, overK > PLAINLY_K, atMs),
    hot: hold(warmth.hot, overK > HOT_K, atMs),
    unsuitable: hold(warmth.unsuitable, cocoonC >= NEVER_SUITABLE_C, atMs),
    back: hold(warmth.back, overK <= 0, atMs),
    cooling: airC !== null && airC < cocoonC - COOLING_K,
  };
}

/** What the warmth itself asks of the keeper, whatever its cause; null while it asks nothing. */
export function warmthUrgency(warmth: Warmth, atMs: number): Urgency | null {
  if (heldFor(warmth.unsuitable, atMs, UNSUITABLE_MS)) return "rush";
  const hotMs = warmth.cooling ? HOT_THOUGH_COOLING_MS : HOT_MS;
  if (heldFor(warmth.hot, atMs, hotMs) || heldFor(warmth.plainlyAbove, atMs, PLAINLY_MS))
    return "visit";
  return heldFor(warmth.above, atMs, ABOVE_MS) ? "note" : null;
}
