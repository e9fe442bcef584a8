import { type Behaviour, watchFridge } from "./behaviour.js";
import { within } from "./chance.js";
import type { Fridge } from "./fridge.js";

/** What a maker or an owner sets, so that the fridge behaves as it is meant to. */
export type Tuning = Readonly<{
  setPointC: number;
  /** The compressor starts so far above the set point and stops so far below. */
  hysteresisK: number;
  heaterW: number;
  /** The heater's thermostat: the plate's warmth at which it ends a defrost. */
  endC: number;
  heatMin: number;
  dripMin: number;
  /** A heater may take so many times `heatMin`. */
  overrun: number;
  /** Share of the time that the compressor runs. */
  runShare: number;
}>;

/** A fridge set as it is to be, and how it then behaves with nothing wrong. */
export type Tuned = Readonly<{ tuning: Tuning; behaviour: Behaviour }>;

/** A tuning to be tried, and how far a defrost is meant to lift the air by now. */
type Attempt = Readonly<{ tuning: Tuning; riseK: number }>;

// Our choice: how often it is tried, and how near is near enough.
const PASSES = 14;
const NEAR_MEAN_K = 0.07;
const NEAR_CYCLE = 0.06;
const NEAR_RISE = 0.07;
/** A defrost is to be felt for no longer than this, min; half an hour and a little. */
const FELT_MIN = 31;
/** From this pass on a step is half as long, from that one on a lower rise will do; our choice. */
const CAREFUL_FROM = 10;
const MODEST_FROM = 6;
/** Once set, a heater may take a quarter longer where the plate is cold; our choice. */
const OVERRUN = 1.25;

/** Set a fridge by trying: up to fourteen times two days and a half. About a second at most. */
export function tuneFridge(fridge: Fridge): Tuned {
  let attempt: Attempt = { tuning: firstTuning(fridge), riseK: fridge.defrost.riseK };
  for (let pass = 0; ; pass++) {
    const behaviour = watchFridge(fridge, attempt.tuning);
    const tuning = { ...attempt.tuning, runShare: behaviour.runShare };
    if (pass === PASSES - 1 || isNear(fridge, behaviour, attempt.riseK)) {
      const endC = behaviour.heaterEndC + fridge.defrost.endAboveK;
      return { tuning: { ...tuning, endC, overrun: OVERRUN }, behaviour };
    }
    attempt = amend(fridge, { tuning, riseK: attempt.riseK }, behaviour, pass);
  }
}

/** A first guess, without a thermostat on the heater; our choice. */
function firstTuning({ thermostat, defrost, cooling }: Fridge): Tuning {
  return {
    setPointC: thermostat.meanC,
    hysteresisK: thermostat.halfCycleK * 0.6,
    heaterW: 3 * cooling.plateWPerK * defrost.riseK,
    endC: Number.POSITIVE_INFINITY,
    heatMin: defrost.heatMin,
    dripMin: defrost.dripMin,
    overrun: 1,
    runShare: cooling.runShare,
  };
}

function isNear({ thermostat }: Fridge, behaviour: Behaviour, riseK: number): boolean {
  return (
    behaviour.feltMin <= FELT_MIN &&
    Math.abs(behaviour.halfCycleK / thermostat.halfCycleK - 1) < NEAR_CYCLE &&
    Math.abs(behaviour.meanC - thermostat.meanC) < NEAR_MEAN_K &&
    Math.abs(behaviour.defrostRiseK / riseK - 1) < NEAR_RISE
  );
}

/** Steps towards the aim, shorter than what is missing, so that they settle. Our choice. */
function amend({ thermostat }: Fridge, attempt: Attempt, seen: Behaviour, pass: number): Attempt {
  const { tuning, riseK } = shorten(attempt, seen.feltMin, pass);
  const length = pass < CAREFUL_FROM ? 1 : 0.5;
  const cycleRatio = (thermostat.halfCycleK / seen.halfCycleK) ** (0.8 * length);
  const riseRatio = within(riseK / seen.defrostRiseK, 0.5, 2) ** (0.8 * length);
  return {
    tuning: {
      ...tuning,
      hysteresisK: within(tuning.hysteresisK * cycleRatio, 0.03, 9),
      setPointC: tuning.setPointC + length * 0.9 * (thermostat.meanC - seen.meanC),
      heaterW:
        seen.defrostRiseK > 0.05
          ? within(tuning.heaterW * riseRatio, 15, 900)
          : tuning.heaterW * 1.5,
    },
    riseK,
  };
}

/** A defrost that is felt for too long heats for less time and with more power. Our choice. */
function shorten({ tuning, riseK }: Attempt, feltMin: number, pass: number): Attempt {
  if (feltMin <= FELT_MIN - 1) return { tuning, riseK };
  const share = within((FELT_MIN - 2) / feltMin, 0.6, 0.97);
  return {
    tuning: {
      ...tuning,
      heatMin: Math.max(4, tuning.heatMin * share),
      dripMin: Math.max(1, tuning.dripMin * share),
      heaterW: tuning.heaterW * share ** -0.3,
    },
    riseK: pass >= MODEST_FROM ? Math.max(3.5, riseK * 0.93) : riseK,
  };
}
