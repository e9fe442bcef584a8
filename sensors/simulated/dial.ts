import { type Behaviour, watchFridge } from "./behaviour.js";
import type { Defrost, Fridge } from "./fridge.js";

/** What a keeper wants of a fridge; see `Behaviour` for the terms. */
export type Wanted = Pick<Behaviour, "meanC" | "halfSwingK" | "defrostRiseK">;

/** How far one round may shrink or widen the hysteresis. */
const WIDEN_AT_MOST = 1.7;
const SHRINK_AT_MOST = 0.5;
/** Part of what is missing that one round adds, so that rounds settle rather than hunt. */
const EAGERNESS = 0.8;

/**
 * Turn the dial, and choose the hysteresis and the heater's warmth into the air, until the
 * fridge behaves as wanted in its room; as near as it can get in `rounds` tries. Each round
 * takes about 10 ms.
 */
export function tuneFridge(fridge: Fridge, wanted: Wanted, rounds = 12): Fridge {
  let tuned = fridge;
  for (let round = 0; round < rounds; round++) tuned = tuneOnce(tuned, wanted);
  return tuned;
}

function tuneOnce(fridge: Fridge, wanted: Wanted): Fridge {
  const seen = watchFridge(fridge);
  const { thermostat, defrost } = fridge;
  const ratio =
    seen.halfSwingK > 0
      ? Math.min(WIDEN_AT_MOST, Math.max(SHRINK_AT_MOST, wanted.halfSwingK / seen.halfSwingK))
      : SHRINK_AT_MOST;
  return {
    ...fridge,
    thermostat: {
      ...thermostat,
      dialC: thermostat.dialC + EAGERNESS * (wanted.meanC - seen.meanC),
      hysteresisK: thermostat.hysteresisK * ratio ** EAGERNESS,
    },
    defrost: defrost && warmDefrost(defrost, fridge, wanted.defrostRiseK - seen.defrostRiseK),
  };
}

/** What lifts the air by a kelvin is about what its walls then take from it. */
function warmDefrost(defrost: Defrost, fridge: Fridge, missingK: number): Defrost {
  const addedW = EAGERNESS * missingK * (fridge.airWallWPerK + fridge.airPlateOffWPerK);
  return { ...defrost, airW: Math.max(0, defrost.airW + addedW) };
}
