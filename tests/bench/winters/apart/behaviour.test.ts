import { beforeAll, describe, expect, test } from "vitest";
import { watchFridge } from "./behaviour.js";
import { airOf } from "./chamber.js";
import { drawFridge } from "./fridge.js";
import { vapourGPerM3 } from "./saturation.js";
import { beginSimulation, stepSimulation } from "./simulation.js";
import { type Tuned, tuneFridge } from "./tuning.js";
import { halfCycleOf } from "./turns.js";

const DAY_S = 86_400;
type Minute = { feltC: number; airC: number; on: boolean; heating: boolean };

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
const middle = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

/** Three days in a room at its mean with nobody at the door, after one to settle. */
function leaveAlone(seed: number, { tuning }: Tuned): Minute[] {
  const fridge = drawFridge(seed);
  const { meanC, humidityPct } = fridge.room;
  const outside = { temperatureC: meanC, vapourGPerM3: vapourGPerM3(meanC, humidityPct) };
  const simulation = beginSimulation(fridge, tuning);
  const { sensor, chamber, control } = simulation;
  const minutes: Minute[] = [];
  for (let atS = 0; atS < 4 * DAY_S; atS += 5) {
    stepSimulation(simulation, outside, 5);
    if (atS < DAY_S || atS % 60 > 0) continue;
    const feltC = sensor.elementC + fridge.sensor.offsetK;
    const { compressorOn: on, defrosts } = control;
    minutes.push({ feltC, airC: airOf(chamber), on, heating: defrosts.heating });
  }
  return minutes;
}

describe.each([900_011, 900_012, 900_013, 900_014])("fridge %i", (seed) => {
  let tuned: Tuned;
  let minutes: Minute[];
  const begins = () =>
    minutes.flatMap((m, i) => (m.heating && minutes[i - 1]?.heating === false ? [i] : []));
  beforeAll(() => {
    tuned = tuneFridge(drawFridge(seed));
    minutes = leaveAlone(seed, tuned);
  });

  test("shows air that is on average between 34 and 38 °F", () => {
    // The band in which keepers winter mason bees: common practice, no source.
    const shownC = mean(minutes.map((m) => m.feltC));
    expect(shownC).toBeGreaterThan(1.1);
    expect(shownC).toBeLessThan(3.3);
  });

  test("defrosts two to four times a day and warms its air by 3 to 8 K each time", () => {
    // Common practice, no source.
    expect(begins().length / 3).toBeGreaterThanOrEqual(5 / 3);
    expect(begins().length / 3).toBeLessThanOrEqual(13 / 3);
    const usualC = middle(minutes.map((m) => m.feltC));
    const risesK = begins().map((i) => {
      const after = minutes.slice(i, i + 50).map((m) => m.feltC);
      return Math.max(...after) - usualC;
    });
    expect(middle(risesK)).toBeGreaterThan(3);
    expect(middle(risesK)).toBeLessThan(8);
    // A heater is off after half an hour: common practice, no source.
    const heatingMin = minutes.filter((m) => m.heating).length / begins().length;
    expect(heatingMin).toBeGreaterThan(2);
    expect(heatingMin).toBeLessThan(31);
  });

  test("is known by its behaviour", () => {
    const { behaviour } = tuned;
    // Watched with visits, which warm it a little and let the compressor run a little more.
    expect(Math.abs(behaviour.meanC - mean(minutes.map((m) => m.feltC)))).toBeLessThan(0.4);
    const ran = minutes.filter((m) => m.on).length / minutes.length;
    expect(Math.abs(behaviour.runShare - ran)).toBeLessThan(0.08);
    const defrosts = begins();
    const calm = minutes.filter((_, i) => !defrosts.some((b) => i >= b - 2 && i < b + 100));
    expect(Math.abs(behaviour.airC - mean(calm.map((m) => m.airC)))).toBeLessThan(0.25);
    // A course that swings between two edges spends all but a few minutes between them.
    const feltC = calm.map((m) => m.feltC).sort((a, b) => a - b);
    const spreadK =
      feltC[Math.floor(0.97 * feltC.length)]! - feltC[Math.floor(0.03 * feltC.length)]!;
    expect(behaviour.halfCycleK / (spreadK / 2)).toBeGreaterThan(0.7);
    expect(behaviour.halfCycleK / (spreadK / 2)).toBeLessThan(1.4);
  });
});

test("the same fridge set the same way behaves the same", () => {
  const fridge = drawFridge(900_011);
  const { tuning } = tuneFridge(fridge);
  expect(watchFridge(fridge, tuning)).toEqual(watchFridge(fridge, tuning));
  const warmer = { ...tuning, setPointC: tuning.setPointC + 1 };
  const riseK = watchFridge(fridge, warmer).meanC - watchFridge(fridge, tuning).meanC;
  // Set a kelvin higher it is about a kelvin warmer.
  expect(riseK).toBeGreaterThan(0.6);
  expect(riseK).toBeLessThan(1.4);
});

test("half a cycle is half of what lies between a top and the bottom after it", () => {
  const waveC = Array.from({ length: 600 }, (_, i) => 2 + 1.5 * Math.sin((2 * Math.PI * i) / 40));
  expect(halfCycleOf(waveC, () => true)).toBeCloseTo(1.5, 2);
  // Disturbed minutes are left out with the swings they cut.
  const disturbedC = waveC.map((c, i) => (i >= 200 && i < 300 ? c + 9 * ((i % 20) / 20) : c));
  expect(halfCycleOf(disturbedC, (i) => i < 200 || i >= 300)).toBeCloseTo(1.5, 2);
  expect(halfCycleOf(waveC, (i) => i % 10 > 0)).toBeLessThan(0.5);
});
