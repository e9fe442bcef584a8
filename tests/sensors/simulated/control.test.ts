import { expect, test } from "vitest";
import { beginControl, turnControl } from "../../../sensors/simulated/control.js";
import type { Defrost, Fridge } from "../../../sensors/simulated/fridge.js";
import { playScript, turnScript } from "../../../sensors/simulated/script.js";
import { BARE, dryChamber } from "./bare-fridge.js";

const QUICK: Fridge = { ...BARE, thermostat: { ...BARE.thermostat, lagS: 5 } };
const DEFROST: Defrost = {
  heaterW: 100,
  airW: 50,
  endPlateC: 8,
  maxS: 900,
  dripS: 120,
  everyS: 3_600,
  by: "clock",
};

/** Runs the switches by a made-up air temperature and notes what they ask for. */
function switches(fridge: Fridge, airC: (atS: number) => number, untilS: number, plateC = -5) {
  const control = beginControl(airC(0), 0);
  const forcing = { doorShare: 0, compressorOn: false, heaterOn: false };
  const calm = turnScript(playScript([], 0), 0);
  const log: { atS: number; on: boolean; heater: boolean }[] = [];
  for (let atS = 0; atS <= untilS; atS += 5) {
    const chamber = { ...dryChamber(airC(atS)), plateC };
    turnControl(control, chamber, fridge, calm, forcing, atS, 5);
    log.push({ atS, on: forcing.compressorOn, heater: forcing.heaterOn });
  }
  return log;
}

test("the compressor starts at the top of the hysteresis and stops at its bottom", () => {
  // 2 ± 1 °C; the air climbs to 4 and falls to 0, a tenth of a kelvin every 5 s.
  const airC = (atS: number) => 2 + 2 * Math.sin((2 * Math.PI * atS) / 3_600);
  const log = switches(QUICK, airC, 3_600);
  const first = log.find((l) => l.on)!;
  const last = log.findLast((l) => l.on)!;
  expect(airC(first.atS)).toBeCloseTo(3, 1);
  expect(airC(last.atS)).toBeCloseTo(1, 1);
});

test("a compressor that has just stopped rests, however warm it gets", () => {
  const airC = (atS: number) => (atS < 100 ? 5 : atS < 120 ? 0 : 5);
  const log = switches(QUICK, airC, 1_000);
  const stopS = log.find((l) => l.atS >= 100 && !l.on)!.atS;
  const startS = log.find((l) => l.atS > stopS && l.on)!.atS;
  expect(startS - stopS).toBe(QUICK.thermostat.minOffS);
});

test("a defrost comes by the clock, stops the compressor, and ends by time if never warm", () => {
  const log = switches({ ...QUICK, defrost: DEFROST }, () => 5, 6_000);
  const heated = log.filter((l) => l.heater);
  expect(Math.abs(heated[0]!.atS - DEFROST.everyS)).toBeLessThanOrEqual(5);
  expect(heated.at(-1)!.atS - heated[0]!.atS).toBe(DEFROST.maxS - 5);
  expect(heated.some((l) => l.on)).toBe(false);
  const backS = log.find((l) => l.atS > heated.at(-1)!.atS && l.on)!.atS;
  expect(backS - heated.at(-1)!.atS).toBe(DEFROST.dripS + 5);
});

test("a defrost ends at once when the plate is warm", () => {
  const log = switches({ ...QUICK, defrost: DEFROST }, () => 5, 4_000, 9);
  expect(log.filter((l) => l.heater)).toHaveLength(1);
});
