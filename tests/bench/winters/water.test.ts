import { expect, test } from "vitest";
import type { Sample, Truth } from "../../../sensors/simulated/simulation.js";
import { HOUR_MS } from "../../../shared/time.js";
import type { Told } from "./score.js";
import { rowWater, WaterTruth } from "./water.js";

const DAYS = 20;

/** A box whose humidity is told for each hour since the start, its cocoons as warm as it. */
function truthOf(pctAt: (hour: number) => number): WaterTruth {
  const water = new WaterTruth();
  for (let hour = 0; hour < DAYS * 24; hour++) {
    const truth = { boxHumidityPct: pctAt(hour), boxC: 3, cocoonC: 3 } as Truth;
    const reading = { probeId: "shed-air", takenAtMs: hour * HOUR_MS };
    water.look({ reading, arrived: true, truth } as Sample);
  }
  return water;
}

const told = (cause: Told["cause"], urgency: Told["urgency"], hour = 15 * 24): Told => {
  return { cause, urgency, atMs: hour * HOUR_MS, change: "opened" } as Told;
};
const inVain = (pctAt: (hour: number) => number, ...all: readonly Told[]): boolean[] =>
  truthOf(pctAt)
    .mark(all)
    .map((one) => one.inVain);

test("damp is in vain where the day before was drier than its limit and a sensor's error", () => {
  const both = [told("damp", "note"), told("damp", "visit")];
  expect(inVain(() => 91, ...both)).toEqual([false, false]);
  expect(inVain(() => 78, ...both)).toEqual([false, true]);
  expect(inVain(() => 76, ...both)).toEqual([true, true]);
  // It was damp, but not in that day.
  expect(inVain((hour) => (hour < 300 ? 95 : 70), told("damp", "note"))).toEqual([true]);
});

test("condensation is in vain where no hour came near saturation, mould where none grew", () => {
  const wet = (hour: number) => (hour === 15 * 24 - 5 ? 99 : 75);
  expect(inVain(wet, told("condensation", "visit"))).toEqual([false]);
  expect(inVain(() => 90, told("condensation", "visit"))).toEqual([true]);
  expect(inVain(() => 70, told("mould", "note"))).toEqual([true]);
});

test("dry is in vain where the box is not below its band, then or in the two days after", () => {
  expect(inVain(() => 58, told("dry", "visit"))).toEqual([false]);
  expect(inVain(() => 66, told("dry", "visit"))).toEqual([true]);
  expect(inVain((hour) => 66 - (hour - 360) / 8, told("dry", "note"))).toEqual([false]);
});

test("a row counts visits and notes of each cause, endings and other causes left out", () => {
  const all = [
    told("damp", "visit"),
    told("dry", "note"),
    { ...told("dry", "note"), change: "ended" } as Told,
    told("door-ajar", "rush"),
  ];
  expect(rowWater(truthOf(() => 70).mark(all), 1)).toBe(
    "letters of water in 1 winter(s) (in vain by the true humidity): damp 1 (1), notes 0 (0); " +
      "condensation 0 (0), notes 0 (0); mould 0 (0), notes 0 (0); dry 0 (0), notes 1 (1)",
  );
});
