import { describe, expect, test } from "vitest";
import { beginCycle, type CycleState, SURE_TURNS, stepCycle, sunkC } from "../../rules/cycle.js";
import { drawNormal, seeded } from "../../sensors/simulated/seeded.js";
import { MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2025, 10, 1);

/** A thermostat's saw-tooth, °C and min. */
type Tooth = Readonly<{ bottomC: number; topC: number; riseMin: number; fallMin: number }>;
const TOOTH: Tooth = { bottomC: 1, topC: 4, riseMin: 25, fallMin: 15 };

/** Follow so many turns of a saw-tooth, read each minute with noise and rounded to a tenth. */
function follow(
  state: CycleState,
  tooth: Tooth,
  turns: number,
  { quiet = true, noiseK = 0.03, stepMin = 1 } = {},
): CycleState {
  const { bottomC, topC, riseMin, fallMin } = tooth;
  const random = seeded(turns, "noise");
  const turnMin = riseMin + fallMin;
  const beganMs = state.lastAtMs === 0 ? START_MS : state.lastAtMs + MINUTE_MS;
  let next = state;
  for (let minute = 0; minute < turns * turnMin; minute += stepMin) {
    const phase = minute % turnMin;
    const share = phase < riseMin ? phase / riseMin : 1 - (phase - riseMin) / fallMin;
    const airC = bottomC + share * (topC - bottomC) + noiseK * drawNormal(random);
    const sample = {
      atMs: beganMs + minute * MINUTE_MS,
      airC: Math.round(airC * 10) / 10,
      hpa: null,
    };
    next = stepCycle(next, sample, quiet);
  }
  return next;
}

describe("the habit learned from a saw-tooth is that saw-tooth", () => {
  test.each<[string, Tooth]>([
    ["a usual one", TOOTH],
    ["a shallow, quick one", { bottomC: 1.9, topC: 2.9, riseMin: 12, fallMin: 8 }],
    ["a deep, slow one", { bottomC: 0, topC: 5, riseMin: 50, fallMin: 30 }],
  ])("%s", (_name, tooth) => {
    const habit = follow(beginCycle(), tooth, 20).habit!;
    // Readings each minute, rounded to 0.1 K, with noise of 0.03 K: a step of each, and the edge
    // that is learned lies a fifth into the spread.
    expect(Math.abs(habit.topC - tooth.topC)).toBeLessThan(0.2);
    expect(Math.abs(habit.bottomC - tooth.bottomC)).toBeLessThan(0.2);
    expect(Math.abs(habit.riseMs / MINUTE_MS - tooth.riseMin)).toBeLessThan(3);
    expect(Math.abs(habit.fallMs / MINUTE_MS - tooth.fallMin)).toBeLessThan(3);
    const slope = (tooth.topC - tooth.bottomC) / tooth.riseMin;
    expect(habit.steepest).toBeGreaterThanOrEqual(slope - 0.01);
    // Rounding may put a tenth, noise most of another, onto a minute's rise.
    expect(habit.steepest).toBeLessThan(slope + 0.25);
  });

  test("read each five minutes, within what such readings can tell", () => {
    const habit = follow(beginCycle(), TOOTH, 20, { stepMin: 5 }).habit!;
    expect(Math.abs(habit.topC - TOOTH.topC)).toBeLessThan(0.3);
    expect(Math.abs(habit.bottomC - TOOTH.bottomC)).toBeLessThan(0.3);
    expect(Math.abs(habit.riseMs / MINUTE_MS - TOOTH.riseMin)).toBeLessThanOrEqual(6);
  });
});

test("a steady temperature with noise has no turns", () => {
  let state = beginCycle();
  const random = seeded(2, "noise");
  for (let i = 0; i < 2_000; i++) {
    const airC = 2.2 + 0.05 * drawNormal(random);
    state = stepCycle(state, { atMs: START_MS + i * MINUTE_MS, airC, hpa: null }, true);
  }
  expect(state.habit).toBeNull();
});

test("a few turns are only a beginning, and the count says so", () => {
  expect(follow(beginCycle(), TOOTH, 5).habit!.turns).toBeLessThan(SURE_TURNS);
  expect(follow(beginCycle(), TOOTH, 15).habit!.turns).toBeGreaterThanOrEqual(SURE_TURNS);
});

describe("a thermostat turned for good is learned", () => {
  const turned: Tooth = { bottomC: 3, topC: 6, riseMin: 30, fallMin: 12 };
  const before = follow(beginCycle(), TOOTH, 30);

  test("within a day's turns where nothing else goes on", () => {
    const habit = follow(before, turned, 26).habit!;
    expect(Math.abs(habit.topC - turned.topC)).toBeLessThan(0.2);
    expect(Math.abs(habit.bottomC - turned.bottomC)).toBeLessThan(0.2);
  });

  test("within twelve turns where each was taken for a disturbance", () => {
    const habit = follow(before, turned, 12, { quiet: false }).habit!;
    expect(Math.abs(habit.topC - turned.topC)).toBeLessThan(0.2);
    expect(Math.abs(habit.bottomC - turned.bottomC)).toBeLessThan(0.2);
  });
});

test("a few disturbed turns teach nothing", () => {
  const before = follow(beginCycle(), TOOTH, 30);
  const lifted: Tooth = { ...TOOTH, topC: 9 };
  const after = follow(before, lifted, 4, { quiet: false });
  expect(after.habit).toEqual(before.habit);
});

test("one turn in four lifted by an opening or a defrost moves the habit little", () => {
  let state = follow(beginCycle(), TOOTH, 3);
  for (let i = 0; i < 8; i++) {
    state = follow(state, { ...TOOTH, topC: 9, riseMin: 40 }, 1);
    state = follow(state, TOOTH, 3);
  }
  expect(Math.abs(state.habit!.topC - TOOTH.topC)).toBeLessThan(0.5);
  expect(state.habit!.riseMs / MINUTE_MS).toBeLessThan(TOOTH.riseMin + 6);
});

test("a usual top that creeps up is followed slowly, so that it can be noticed", () => {
  const before = follow(beginCycle(), TOOTH, 30);
  const drifted = follow(before, { ...TOOTH, topC: 6, bottomC: 3 }, 26);
  expect(drifted.habit!.usualTopC).toBeLessThan(drifted.habit!.topC);
  expect(drifted.habit!.usualTopC).toBeGreaterThan(before.habit!.usualTopC);
});

describe("how far a thermostat has sunk", () => {
  const before = follow(beginCycle(), TOOTH, 30);
  const sunk = { ...TOOTH, topC: TOOTH.topC - 1.5, bottomC: TOOTH.bottomC - 1.5 };

  test("is not known before its turns are", () => {
    expect(sunkC(beginCycle())).toBeNull();
    expect(sunkC(follow(beginCycle(), TOOTH, SURE_TURNS - 1))).toBeNull();
  });

  test("is nothing while it turns where it did, and what two turns show of it after", () => {
    expect(Math.abs(sunkC(before)!)).toBeLessThan(0.2);
    // A bottom that is low by itself may be what a compressor does after a defrost.
    expect(sunkC(follow(before, sunk, 1.5))!).toBeLessThan(1);
    expect(Math.abs(sunkC(follow(before, sunk, 3))! - 1.5)).toBeLessThan(0.3);
  });

  test("is told for days of creeping, and forgotten where it stays", () => {
    expect(sunkC(follow(before, sunk, 60))!).toBeGreaterThan(0.9);
    expect(sunkC(follow(before, sunk, 300))!).toBeLessThan(0.3);
  });
});

test("what is remembered is plain JSON from the first, and does not grow without end", () => {
  expect(JSON.parse(JSON.stringify(beginCycle()))).toEqual(beginCycle());
  const long = follow(beginCycle(), TOOTH, 300);
  expect(JSON.parse(JSON.stringify(long))).toEqual(long);
  expect(JSON.stringify(long).length).toBeLessThan(5_000);
});
