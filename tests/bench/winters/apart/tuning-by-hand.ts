import type { Tuning } from "./tuning.js";

/** A tuning for tests that do not hang on it, where a real one would take seconds to find. */
export const TUNING_BY_HAND: Tuning = {
  setPointC: 2.2,
  hysteresisK: 0.8,
  heaterW: 100,
  endC: Number.POSITIVE_INFINITY,
  heatMin: 12,
  dripMin: 3,
  overrun: 1,
  runShare: 0.35,
};
