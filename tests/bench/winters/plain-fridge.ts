import type { Sketch } from "../../../sensors/simulated/make.js";

/** Heaters of the sketches melt the frost within minutes; a seventh of their power takes longer. */
const GENTLE_SHARE = 0.15;

/**
 * The fridge of a plain winter: its defrosts warm the air slowly, over some 8 to 20 minutes, and its
 * door, left open, stands a bottle's width open or more.
 */
export function plainly(sketch: Sketch): Sketch {
  const { defrost } = sketch;
  return {
    ...sketch,
    defrost: defrost && { ...defrost, heaterW: GENTLE_SHARE * defrost.heaterW },
    ajarShare: BOTTLE_TO_WIDE,
  };
}

/** Of a door half a metre wide: 10 cm open, up to wide open. */
const BOTTLE_TO_WIDE = { low: 0.2, high: 1 };
