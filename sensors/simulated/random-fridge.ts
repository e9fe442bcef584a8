import { type Behaviour, watchFridge } from "./behaviour.js";
import type { Fridge } from "./fridge.js";
import { makeFridge, type Sketch } from "./make.js";
import { draw, drawBetween, drawOne, drawRatio, type Seeded, seeded } from "./seeded.js";

/** No thermostat is finer than this, K; our choice. */
const LEAST_HYSTERESIS_K = 0.3;

/**
 * A fridge of no particular make, drawn from the ranges that homes hold. Tried at most 40 times.
 *
 * @param alter changes each sketch before it is built
 */
export function drawFridge(
  seed: number,
  alter: (sketch: Sketch) => Sketch = (sketch) => sketch,
): Fridge {
  const random = seeded(seed, "fridge");
  for (let attempt = 0; attempt < 40; attempt++) {
    const fridge = makeFridge(alter(sketchFridge(random, `drawn ${seed}`)));
    const steady = fridge.thermostat.hysteresisK >= LEAST_HYSTERESIS_K;
    if (steady && isOrdinary(watchFridge(fridge))) return fridge;
  }
  throw new RangeError(`no ordinary fridge found from seed ${seed}`);
}

/** Cycles of 15 to 90 min and ±0.5 to ±2.5 K, and defrosts of 3 to 8 K: what is meant here by
 * an ordinary fridge. */
export function isOrdinary(seen: Behaviour): boolean {
  const cycles = seen.periodMin >= 15 && seen.periodMin <= 90;
  const swings = seen.halfSwingK >= 0.5 && seen.halfSwingK <= 2.5;
  return cycles && swings && seen.defrostRiseK >= 3 && seen.defrostRiseK <= 8;
}

function sketchFridge(random: Seeded, name: string): Sketch {
  const fan = draw(random) < 0.5;
  const volumeM3 = drawRatio(random, 0.08, 0.36);
  const insulationWPerM2K = drawBetween(random, 0.35, 0.8);
  const size = (volumeM3 / 0.15) ** (2 / 3);
  return {
    name,
    volumeM3,
    foodKg: volumeM3 * drawRatio(random, 20, 100),
    insulationWPerM2K,
    fan,
    coolingW: drawBetween(random, 28, 60) * size,
    plateJPerK: drawBetween(random, 1_000, 2_500) * size,
    senses: fan ? "air" : drawOne(random, ["air", "wall", "plate"] as const),
    minOffS: drawOne(random, [180, 240, 300]),
    defrost: {
      everyS: drawBetween(random, 6, 12) * 3_600,
      by: draw(random) < 0.5 ? "clock" : "use",
      heaterW: drawRatio(random, 55, 180) * size,
      endPlateC: drawBetween(random, 6, 12),
    },
    meanC: drawBetween(random, 1.8, 2.8),
    halfSwingK: drawBetween(random, 0.5, 2.4),
    defrostRiseK: drawBetween(random, 3.2, 7.8),
    dischargeShare: drawBetween(random, 0.2, 0.5),
    wetShare: drawOne(random, [0, 0.005, 0.02, 0.06]),
    cocoonLagMin: drawBetween(random, 20, 90),
    room: {
      meanC: drawBetween(random, 8, 23),
      dailyK: drawBetween(random, 0.3, 2.5),
      weatherK: drawBetween(random, 0.3, 1.8),
      humidityPct: drawBetween(random, 30, 78),
      humidityWeatherPct: drawBetween(random, 3, 8),
    },
    openingsPerDay: 6,
    ajarShare: { low: 0.15, high: drawOne(random, [0.3, 1, 1]) },
    probeLagS: drawBetween(random, 40, 200),
  };
}
