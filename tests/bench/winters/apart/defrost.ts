import { type Chance, drawBetween, drawNormal, drawUnit } from "./chance.js";
import type { Tuning } from "./tuning.js";

/** How a fridge rids its plate of frost: by a clock, by hours its compressor ran, or between. */
export type Defrost = Readonly<{
  everyH: number;
  /** 0 counts the clock's hours, 1 those that the compressor ran. */
  runTimeShare: number;
  heatMin: number;
  /** So long water drips off before the compressor may start again. */
  dripMin: number;
  /** Share of defrosts that wait for the compressor to stop by itself. */
  waitsShare: number;
  /** How far it is meant to lift the air. */
  riseK: number;
  /** The heater's thermostat over the plate's usual warmth at the end; low, it ends defrosts. */
  endAboveK: number;
}>;

/** Where the defrosts are at. Changed in place. */
export type DefrostNow = {
  countedS: number;
  due: boolean;
  heating: boolean;
  heatedS: number;
  dripS: number;
  waits: boolean;
  /** This time's interval over the usual one. */
  stretch: number;
  /** The plate's usual warmth when the heater stops. */
  usualEndC: number;
  readonly chance: Chance;
};

/** A due defrost waits no longer than this for the compressor, s; our choice. */
const WAITS_AT_MOST_S = 3_600;
/** A heater is off after half an hour, dripping included, s; common practice, no source. */
const LONGEST_S = 1_800;
/** Its thermostat is not asked in the first two minutes; our choice. */
const LEAST_HEAT_S = 120;
/** The interval strays by a twentieth; our choice. */
const STRAYS = 0.05;
/** Share of the new end that the usual one takes up each time; our choice. */
const LEARNS = 0.4;

/** Two to four defrosts a day that lift the air by some 4 to 7 K. Distributions are our choice. */
export function drawDefrost(chance: Chance): Defrost {
  return {
    everyH: drawBetween(chance, 6.1, 11.8),
    runTimeShare: drawUnit(chance),
    heatMin: drawBetween(chance, 8, 24),
    dripMin: drawBetween(chance, 1, 6),
    waitsShare: drawUnit(chance),
    riseK: drawBetween(chance, 3.6, 7.4),
    endAboveK: drawBetween(chance, -0.4, 5),
  };
}

/** Half an interval after the last one. */
export function beginDefrosts(defrost: Defrost, chance: Chance): DefrostNow {
  return {
    countedS: defrost.everyH * 3_600 * 0.5,
    due: false,
    heating: false,
    heatedS: 0,
    dripS: 0,
    usualEndC: 0.1,
    ...drawNext(defrost, chance),
    chance,
  };
}

function drawNext({ waitsShare }: Defrost, chance: Chance): Pick<DefrostNow, "waits" | "stretch"> {
  const waits = drawUnit(chance) < waitsShare;
  return { waits, stretch: 1 + STRAYS * drawNormal(chance) };
}

/** Count on, and begin a defrost where one is due; says whether one has begun. */
export function countToDefrost(
  now: DefrostNow,
  defrost: Defrost,
  runShare: number,
  compressorOn: boolean,
  compressorRuns: boolean,
  stepS: number,
): boolean {
  const { everyH, runTimeShare } = defrost;
  // Hours run count by so much more that both kinds come equally often.
  const byRunning = compressorRuns ? 1 / Math.max(0.2, runShare) : 0;
  now.countedS += stepS * (1 - runTimeShare + runTimeShare * byRunning);
  const dueS = everyH * 3_600 * now.stretch;
  if (!now.heating && now.dripS <= 0 && now.countedS > dueS) now.due = true;
  const waiting = now.waits && compressorOn && now.countedS <= dueS + WAITS_AT_MOST_S;
  if (!now.due || waiting) return false;
  now.due = false;
  now.countedS = 0;
  now.heating = true;
  now.heatedS = 0;
  Object.assign(now, drawNext(defrost, now.chance));
  return true;
}

/** Heat on; gives the heater's power in this step, W, none once it has done. */
export function heatPlate(now: DefrostNow, tuning: Tuning, plateC: number, stepS: number): number {
  const { endC, heatMin, dripMin, overrun, heaterW } = tuning;
  now.heatedS += stepS;
  const longestS = Math.min(LONGEST_S - dripMin * 60, heatMin * 60 * overrun);
  const warm = plateC > endC && now.heatedS > LEAST_HEAT_S;
  if (!warm && now.heatedS <= longestS) return heaterW;
  now.heating = false;
  now.dripS = dripMin * 60;
  now.usualEndC += LEARNS * (plateC - now.usualEndC);
  return 0;
}
