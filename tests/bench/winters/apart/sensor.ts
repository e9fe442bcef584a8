import type { Chamber } from "./chamber.js";
import {
  type Chance,
  drawAbout,
  drawBetween,
  drawRatio,
  drawRatioAbout,
  drawUnit,
} from "./chance.js";
import type { Outside } from "./room.js";
import { saturatedOverWaterGPerM3 } from "./saturation.js";

/** Where a sensor hangs, how slow it is and how far off. */
export type Sensor = Readonly<{
  /** 0 in the lower layer of air, 1 in the upper. */
  upperShare: number;
  /** How much of the difference to plate, liner and an open door it feels. */
  plateShare: number;
  linerShare: number;
  doorShare: number;
  lagS: number;
  vapourLagS: number;
  humidityLagS: number;
  noiseK: number;
  wanderK: number;
  offsetK: number;
  humidityNoisePct: number;
  humidityOffsetPct: number;
  humidityGain: number;
  humidityStepPct: number;
  /** Readings lost in a row, on average. */
  lossBurst: number;
  jitterS: number;
}>;

/** What a sensor feels now. Changed in place. */
export type SensorNow = {
  /** The air about it, without its lag. */
  aboutC: number;
  elementC: number;
  vapourGPerM3: number;
  humidityPct: number;
};

/** A door's gap of this many mm lets half of its draught reach the sensor; our choice. */
const HALF_DRAUGHT_MM = 100;
/** Air moved by this much of a strong fan makes it a fifth quicker; our choice. */
const BRISK_DRAUGHT = 0.3;
const BRISK_LAG_SHARE = 0.8;

/** A household sensor of tenths of a kelvin. Distributions are our choice. */
export function drawSensor(chance: Chance): Sensor {
  const upperShare = drawUnit(chance);
  const plateShare = drawBetween(chance, 0, 0.06);
  const linerShare = drawBetween(chance, 0, 0.35);
  const doorShare = drawBetween(chance, 0, 0.25);
  const lagS = drawRatioAbout(chance, 120, 0.65, 25, 330);
  return {
    upperShare,
    plateShare,
    linerShare,
    doorShare,
    lagS,
    vapourLagS: lagS * drawBetween(chance, 0.1, 0.7),
    humidityLagS: drawRatio(chance, 6, 45),
    noiseK: drawRatio(chance, 0.01, 0.09),
    wanderK: drawRatio(chance, 0.005, 0.06),
    offsetK: drawAbout(chance, 0, 0.18, -0.4, 0.4),
    humidityNoisePct: drawRatio(chance, 0.05, 0.5),
    humidityOffsetPct: drawAbout(chance, 0, 2, -5, 5),
    humidityGain: drawAbout(chance, 1, 0.03, 0.92, 1.08),
    humidityStepPct: drawUnit(chance) < 0.6 ? 0.1 : 1,
    lossBurst: drawBetween(chance, 1, 3),
    jitterS: drawRatio(chance, 0.05, 1),
  };
}

/** At rest in a chamber as one begins; our choice. */
export function beginSensor(): SensorNow {
  return { aboutC: 2.1, elementC: 2, vapourGPerM3: 4, humidityPct: 70 };
}

/**
 * Let the sensor follow the air about it for a step; each lag of first order, exactly. How much
 * more of the plate a fan brings to it is our choice.
 */
export function followAir(
  now: SensorNow,
  sensor: Sensor,
  chamber: Chamber,
  outside: Outside,
  draughts: Readonly<{ gapMm: number; freeShare: number; fanDraught: number }>,
  stepS: number,
): void {
  const { gapMm, freeShare, fanDraught } = draughts;
  const { upperShare, plateShare, linerShare, lagS } = sensor;
  const mix = (upper: number, lower: number) => upperShare * upper + (1 - upperShare) * lower;
  const fromDoor =
    gapMm > 0 ? ((sensor.doorShare * gapMm) / (gapMm + HALF_DRAUGHT_MM)) * freeShare : 0;
  const airC = mix(chamber.upperC, chamber.lowerC);
  const plateK = plateShare * (chamber.plateC - airC) * (0.4 + 0.6 * fanDraught);
  const linerK = linerShare * (mix(chamber.upperLinerC, chamber.lowerLinerC) - airC);
  now.aboutC = (airC + plateK + linerK) * (1 - fromDoor) + fromDoor * outside.temperatureC;
  const aboutGPerM3 =
    mix(chamber.upperGPerM3, chamber.lowerGPerM3) * (1 - fromDoor) +
    fromDoor * outside.vapourGPerM3;
  const briskly = fanDraught > BRISK_DRAUGHT ? BRISK_LAG_SHARE : 1;
  now.elementC += (now.aboutC - now.elementC) * reached(stepS, lagS * briskly);
  now.vapourGPerM3 += (aboutGPerM3 - now.vapourGPerM3) * reached(stepS, sensor.vapourLagS);
  // Its own warmth decides what it takes that vapour for.
  const feltPct = (100 * now.vapourGPerM3) / saturatedOverWaterGPerM3(now.elementC);
  now.humidityPct += (feltPct - now.humidityPct) * reached(stepS, sensor.humidityLagS);
}

function reached(stepS: number, lagS: number): number {
  return 1 - Math.exp(-stepS / lagS);
}
