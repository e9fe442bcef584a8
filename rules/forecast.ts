import type { Forecast, Reach } from "../shared/excursion.js";
import type { Span } from "../shared/site.js";
import { MINUTE_MS } from "../shared/time.js";
import { followLinear } from "./lag.js";

/** How the surroundings of the cocoons will go on: an exponential approach, with its span. */
export type Approach = Readonly<{
  cocoonC: number;
  airC: number;
  /** Where the air will settle, °C. */
  settlesAtC: Span;
  /** Time constant of the air's way there, ms. */
  airLagMs: Span;
  /** Lag of the cocoons behind the air, ms. */
  cocoonLagMs: Span;
}>;

const STEP_MS = 2 * MINUTE_MS;
/** Nothing is foretold beyond two days. */
const STEPS_MOST = 2 * 24 * 30;

/**
 * When the cocoons reach each target, warming or cooling, if nobody does anything.
 *
 * The soonest takes the fast end of every span together and the latest the slow end, so the
 * truth lies between them as far as the spans are right. A target already passed is left out.
 */
export function foretell(approach: Approach, targetsC: readonly number[]): Forecast {
  const { settlesAtC } = approach;
  const warming = (settlesAtC.low + settlesAtC.high) / 2 >= approach.cocoonC;
  const fastC = warming ? settlesAtC.high : settlesAtC.low;
  const slowC = warming ? settlesAtC.low : settlesAtC.high;
  const reaches: Reach[] = [];
  for (const targetC of targetsC) {
    if (warming ? targetC <= approach.cocoonC : targetC >= approach.cocoonC) continue;
    const { airLagMs, cocoonLagMs } = approach;
    const soonestMin = minutesTo(targetC, approach, fastC, airLagMs.low, cocoonLagMs.low);
    if (soonestMin === null) continue;
    const latestMin = minutesTo(targetC, approach, slowC, airLagMs.high, cocoonLagMs.high);
    reaches.push({ targetC, soonestMin, latestMin });
  }
  return { settlesAtC, reaches };
}

/** Minutes until the cocoons cross the target, or null where they do not within two days. */
function minutesTo(
  targetC: number,
  from: Approach,
  settlesAtC: number,
  airLagMs: number,
  cocoonLagMs: number,
): number | null {
  let airC = from.airC;
  let cocoonC = from.cocoonC;
  const upward = targetC > cocoonC;
  for (let step = 1; step <= STEPS_MOST; step++) {
    const nextAirC = settlesAtC + (airC - settlesAtC) * Math.exp(-STEP_MS / airLagMs);
    const nextC = followLinear(cocoonC, airC, nextAirC, STEP_MS, cocoonLagMs);
    if (upward ? nextC >= targetC : nextC <= targetC) {
      const part = (targetC - cocoonC) / (nextC - cocoonC);
      return ((step - 1 + part) * STEP_MS) / MINUTE_MS;
    }
    airC = nextAirC;
    cocoonC = nextC;
  }
  return null;
}
