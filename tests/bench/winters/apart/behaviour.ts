import { airOf } from "./chamber.js";
import type { Fridge } from "./fridge.js";
import { vapourGPerM3 } from "./saturation.js";
import { beginSimulation, stepSimulation } from "./simulation.js";
import type { Tuning } from "./tuning.js";
import { halfCycleOf } from "./turns.js";

/** How a fridge behaves on ordinary days with nothing wrong, as its sensor's element feels it. */
export type Behaviour = Readonly<{
  /** Mean of what the sensor shows, its offset included. */
  meanC: number;
  halfCycleK: number;
  /** How far a defrost lifts what is felt above its mean away from defrosts. */
  defrostRiseK: number;
  /** How long a defrost is felt above the compressor's cycles. */
  feltMin: number;
  /** Share of the time that the compressor runs. */
  runShare: number;
  /** The plate's usual warmth when the heater stops. */
  heaterEndC: number;
  /** True mean of the air away from openings and defrosts. */
  airC: number;
}>;

/** What was seen each minute, and at which minutes defrosts began; before the first is negative. */
type Watched = {
  readonly feltC: number[];
  readonly airC: number[];
  readonly defrostsMin: number[];
  runS: number;
  heaterEndC: number;
};

const DAY_S = 86_400;
const STEP_S = 5;
// Our choice: how long it is watched, and when somebody comes, in hours of the day.
const WARM_UP_S = 0.75 * DAY_S;
const WATCH_S = 1.75 * DAY_S;
const VISITS_H = [7, 7.1, 12.5, 15, 18.5, 20];
const VISIT_S = 20;
/** About what cooking warms a room on average, K; our choice. */
const COOKING_K = 0.02;
/** After an opening and about a defrost the air is not at rest for so long, min; our choice. */
const OPENING_MIN = 36;
const BEFORE_DEFROST_MIN = 2;
const AFTER_DEFROST_MIN = 100;
/** A defrost's top comes within so long, min, and it is felt no longer than that; our choice. */
const TOP_WITHIN_MIN = 50;
const FELT_WITHIN_MIN = 70;
/** What is this much above the cycles is felt, K; our choice. */
const FELT_K = 0.5;

/** Watch a fridge in its room at its mean, with six short visits a day. About 50 ms of work. */
export function watchFridge(fridge: Fridge, tuning: Tuning): Behaviour {
  const record = recordFridge(fridge, tuning);
  const { feltC, airC, defrostsMin } = record;
  const isQuiet = (minute: number) =>
    !defrostsMin.some((d) => minute >= d - BEFORE_DEFROST_MIN && minute < d + AFTER_DEFROST_MIN);
  const isCalm = (minute: number) => isQuiet(minute) && !isNearVisit(minute);
  const quietC = mean(feltC.filter((_, minute) => isQuiet(minute))) ?? 0;
  const halfCycleK = halfCycleOf(feltC, isCalm);
  const whole = defrostsMin.filter((d) => d >= 0 && d + TOP_WITHIN_MIN < feltC.length);
  const risesK = whole.map((d) => Math.max(...feltC.slice(d, d + TOP_WITHIN_MIN)) - quietC);
  const feltMin = whole.map((d) => {
    const after = feltC.slice(d, d + FELT_WITHIN_MIN);
    return after.filter((c) => c > quietC + halfCycleK + FELT_K).length;
  });
  return {
    meanC: (mean(feltC) ?? Number.NaN) + fridge.sensor.offsetK,
    halfCycleK,
    defrostRiseK: mean(risesK) ?? 0,
    feltMin: mean(feltMin) ?? 0,
    runShare: record.runS / WATCH_S,
    heaterEndC: record.heaterEndC,
    airC: mean(airC.filter((_, minute) => isCalm(minute))) ?? Number.NaN,
  };
}

function recordFridge(fridge: Fridge, tuning: Tuning): Watched {
  const { meanC, humidityPct } = fridge.room;
  const outside = {
    temperatureC: meanC + COOKING_K,
    vapourGPerM3: vapourGPerM3(meanC, humidityPct),
  };
  const simulation = beginSimulation(fridge, tuning);
  const { control, chamber, sensor } = simulation;
  const record: Watched = { feltC: [], airC: [], defrostsMin: [], runS: 0, heaterEndC: 0 };
  for (let atS = 0; atS < WARM_UP_S + WATCH_S; ) {
    const { heating } = control.defrosts;
    simulation.gapMm = isVisit(atS) ? fridge.household.swingMm : 0;
    stepSimulation(simulation, outside, STEP_S);
    if (control.defrosts.heating && !heating)
      record.defrostsMin.push(Math.round((atS - WARM_UP_S) / 60));
    atS += STEP_S;
    if (atS > WARM_UP_S && control.compressorOn) record.runS += STEP_S;
    if (atS < WARM_UP_S || atS % 60 !== 0) continue;
    record.feltC.push(sensor.elementC);
    record.airC.push(airOf(chamber));
  }
  record.heaterEndC = control.defrosts.usualEndC;
  return record;
}

function isVisit(atS: number): boolean {
  const hour = (atS % DAY_S) / 3_600;
  return VISITS_H.some((h) => hour >= h && hour < h + VISIT_S / 3_600);
}

function isNearVisit(minute: number): boolean {
  const hour = ((minute * 60 + WARM_UP_S) % DAY_S) / 3_600;
  return VISITS_H.some((h) => hour >= h && hour < h + OPENING_MIN / 60);
}

function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((a, b) => a + b, 0) / values.length;
}
