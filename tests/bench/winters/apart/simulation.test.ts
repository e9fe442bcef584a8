import { expect, test } from "vitest";
import { airOf } from "./chamber.js";
import { drawFridge, type Fridge } from "./fridge.js";
import { vapourGPerM3 } from "./saturation.js";
import { beginSimulation, healthyTwin, type Simulation, stepSimulation } from "./simulation.js";
import { TUNING_BY_HAND } from "./tuning-by-hand.js";
import { cocoonWaterG } from "./vapour.js";

const SEEDS = [900_001, 900_002, 900_003, 900_004];
const HOUR_S = 3_600;

const roomOf = ({ room }: Fridge) => ({
  temperatureC: room.meanC,
  vapourGPerM3: vapourGPerM3(room.meanC, room.humidityPct),
});

function run(
  simulation: Simulation,
  seconds: number,
  stepS = 2.5,
  outside = roomOf(simulation.fridge),
) {
  for (let atS = 0; atS < seconds; atS += stepS) stepSimulation(simulation, outside, stepS);
}

test.each(SEEDS)(
  "the farther the door of fridge %i stands open, the faster its air warms",
  (seed) => {
    const shut = beginSimulation(drawFridge(seed), TUNING_BY_HAND);
    run(shut, 2 * HOUR_S);
    const warmed = [0, 15, 60, 250].map((gapMm) => {
      const simulation = healthyTwin(shut);
      simulation.gapMm = gapMm;
      run(simulation, 5 * 60);
      return airOf(simulation.chamber);
    });
    expect(warmed).toEqual([...warmed].sort((a, b) => a - b));
    // Common practice, no source: a door wide open warms the air by several kelvins in minutes.
    expect(warmed[3]! - warmed[0]!).toBeGreaterThan(4);
    // It never gets warmer than the room that comes in.
    expect(warmed[3]!).toBeLessThan(roomOf(shut.fridge).temperatureC);
  },
);

test.each(SEEDS)("a dead fridge %i, shut, warms by Newton's law of cooling", (seed) => {
  const drawn = drawFridge(seed);
  // Nothing wet, so that no heat goes into water.
  const fridge = { ...drawn, draughts: { ...drawn.draughts, dampM3PerS: 0 } };
  const simulation = beginSimulation(fridge, TUNING_BY_HAND);
  simulation.chamber.frostG = 0;
  simulation.disorder.compressorDead = true;
  simulation.disorder.powered = false;
  const outside = { temperatureC: fridge.room.meanC, vapourGPerM3: 2 };
  const colderK = () => outside.temperatureC - airOf(simulation.chamber);
  const hours = lastingH(fridge);
  run(simulation, hours * HOUR_S, 5, outside);
  const firstK = colderK();
  run(simulation, 0.5 * hours * HOUR_S, 5, outside);
  const secondK = colderK();
  run(simulation, 0.5 * hours * HOUR_S, 5, outside);
  const thirdK = colderK();
  expect(thirdK).toBeGreaterThan(0);
  // Newton: in equal times the difference falls by equal ratios. What the stores keep back at
  // first has mostly gone by then; 5 % of the logarithm are left for it.
  const ratio = Math.log(firstK / secondK) / Math.log(secondK / thirdK);
  expect(Math.abs(ratio - 1)).toBeLessThan(0.05);
  // A body of one warmth: the ratio is the time over heat capacity and resistance (Incropera and
  // DeWitt, Fundamentals of Heat and Mass Transfer, chapter 5; from memory). Stores that lag
  // behind the air make it slower, by no more than a third here.
  const lasted = (0.5 * hours) / Math.log(secondK / thirdK);
  expect(lasted / hours).toBeGreaterThan(0.95);
  expect(lasted / hours).toBeLessThan(1.35);
});

/** Heat capacity of all inside over what leaks, walls and the film of air on them in series, h. */
function lastingH({ cabinet, contents, cooling }: Fridge): number {
  const airKJPerK = (cabinet.volumeL / 1_000) * 1.28;
  const liningKJPerK = cabinet.linerKJPerK;
  const foodKJPerK = 3.6 * contents.storesKg + contents.cocoonKJPerK;
  const metalKJPerK = contents.shelvesKJPerK + cooling.plateKJPerK;
  const filmWPerK = cabinet.linerWPerM2K * cabinet.wallM2;
  const leakWPerK = 1 / (1 / cabinet.leakWPerK + 1 / filmWPerK);
  const wholeJPerK = 1_000 * (airKJPerK + liningKJPerK + foodKJPerK + metalKJPerK);
  return wholeJPerK / leakWPerK / HOUR_S;
}

test.each(SEEDS)(
  "water in a shut fridge %i only changes its place, but for the seal's breath",
  (seed) => {
    const drawn = drawFridge(seed);
    const fridge = { ...drawn, draughts: { ...drawn.draughts, dampM3PerS: 0 } };
    // So cold that frost stays frost, since what melts runs off, and no hour counts for more.
    const simulation = beginSimulation(fridge, { ...TUNING_BY_HAND, setPointC: -20, runShare: 1 });
    const { chamber, bodies, control } = simulation;
    run(simulation, 10 * 60, 5);
    const waterG = () =>
      bodies.layerM3 * (chamber.upperGPerM3 + chamber.lowerGPerM3) +
      (chamber.frostG + chamber.upperFilmG + chamber.lowerFilmG + chamber.shelvesFilmG) +
      chamber.cocoonHumidityShare * cocoonWaterG(fridge.contents.cocoonKg);
    const beforeG = waterG();
    const frostBeforeG = chamber.frostG;
    // The first defrost, which drains water, comes after half an interval of 6 h and more.
    const seconds = 2 * HOUR_S;
    run(simulation, seconds, 5);
    expect(control.defrosts.heating).toBe(false);
    const movedG = chamber.frostG - frostBeforeG;
    const gainedG = waterG() - beforeG;
    // A seal breathes two millilitres a second (our choice): at most all the vapour in them.
    expect(gainedG).toBeGreaterThan(0);
    expect(gainedG).toBeLessThan(2e-6 * roomOf(fridge).vapourGPerM3 * seconds);
    expect(movedG).toBeGreaterThan(2 * gainedG);
  },
);

test("a twin is healthy, and what becomes of it does not touch the one it is of", () => {
  const fridge = drawFridge(SEEDS[0]!);
  const simulation = beginSimulation(fridge, TUNING_BY_HAND);
  run(simulation, HOUR_S);
  simulation.disorder.compressorDead = true;
  const twin = healthyTwin(simulation);
  const before = structuredClone(simulation);
  run(twin, 12 * HOUR_S, 5);
  expect(simulation).toEqual(before);
  expect(twin.disorder.compressorDead).toBe(false);
  // It goes on as the other does once that is in order.
  simulation.disorder.compressorDead = false;
  run(simulation, 12 * HOUR_S, 5);
  expect(simulation.chamber).toEqual(twin.chamber);
  expect(simulation.control).toEqual(twin.control);
});
