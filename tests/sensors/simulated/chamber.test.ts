import { expect, test } from "vitest";
import { BARE, DRY_ROOM, dryChamber, heatOf, runChamber } from "./bare-fridge.js";

test("left off and shut, a fridge warms as Newton's law of cooling says", () => {
  // T(t) = T_room + (T_0 - T_room) e^(-t/τ), τ = C/UA, in closed form (textbook). All that is
  // inside is small against the wall here, so the fridge is one lump of their sum.
  const one = {
    ...BARE,
    foodJPerK: 200,
    plateJPerK: 900,
    box: { ...BARE.box, shellJPerK: 20, cocoonJPerK: 20, cocoonLagS: 600 },
  };
  const capacityJPerK = one.airJPerK + one.wallJPerK + 200 + 900 + 40;
  const lagS = capacityJPerK / one.roomWallWPerK;
  const chamber = dryChamber(2);
  for (const hours of [1, 1, 2, 4, 8]) {
    runChamber(chamber, one, hours * 3_600, {});
  }
  const expected = 20 + (2 - 20) * Math.exp((-16 * 3_600) / lagS);
  // Parts trail the wall by up to a few minutes of τ = 2.6 h: under a tenth of a kelvin by then.
  expect(Math.abs(chamber.wallC - expected)).toBeLessThan(0.03);
  const soon = runChamber(dryChamber(2), one, 3_600, {});
  expect(Math.abs(soon.wallC - (20 - 18 * Math.exp(-3_600 / lagS)))).toBeLessThan(0.15);
});

test("cocoons follow their box as a first-order lag does", () => {
  // y(t) = 1 - e^(-t/τ) after a step; at t = τ it is 0.632121. The box is held at 12 °C by a
  // capacity that the cocoons cannot move.
  const held = { ...BARE, box: { ...BARE.box, shellJPerK: 1e9 } };
  const chamber = { ...dryChamber(2), boxC: 12 };
  runChamber(chamber, held, held.box.cocoonLagS, {});
  expect(chamber.cocoonC).toBeCloseTo(2 + 10 * 0.632121, 1);
});

test("with no way in or out, heat only moves about inside", () => {
  const shut = { ...BARE, roomWallWPerK: 0 };
  const chamber = { ...dryChamber(2), plateC: -15, foodC: 18, boxC: 9 };
  const before = heatOf(chamber, shut);
  runChamber(chamber, shut, 6 * 3_600, {});
  // Rounding of 4,320 steps only.
  expect(Math.abs(heatOf(chamber, shut) - before)).toBeLessThan(1e-4);
  expect(Math.abs(chamber.foodC - chamber.plateC)).toBeLessThan(0.2);
});

test("running without a break, a fridge settles where cooling meets what leaks in", () => {
  // One chain in steady state, no flow into food or box: room -UA- wall -h- air -h- plate, with
  // k(T_plate - T_floor) drawn from the plate. Solved by hand: flow = ΔT over summed resistances.
  const resistance = 1 / BARE.roomWallWPerK + 1 / BARE.airWallWPerK + 1 / BARE.airPlateOnWPerK;
  const flowW = (20 - BARE.coolingFloorC) / (resistance + 1 / BARE.coolingWPerK);
  const plateC = BARE.coolingFloorC + flowW / BARE.coolingWPerK;
  const chamber = runChamber(dryChamber(2), BARE, 4 * 86_400, { compressorOn: true });
  expect(chamber.plateC).toBeCloseTo(plateC, 3);
  expect(chamber.airC).toBeCloseTo(plateC + flowW / BARE.airPlateOnWPerK, 3);
});

test("a tenth of the step gives the same morning to a few hundredths of a kelvin", () => {
  const coarse = dryChamber(2);
  const fine = dryChamber(2);
  for (const [chamber, stepS] of [
    [coarse, 5],
    [fine, 0.5],
  ] as const) {
    runChamber(chamber, BARE, 1_800, { compressorOn: true }, DRY_ROOM, stepS);
    runChamber(chamber, BARE, 60, { doorShare: 1 }, DRY_ROOM, stepS);
    runChamber(chamber, BARE, 600, {}, DRY_ROOM, stepS);
  }
  expect(Math.abs(coarse.airC - fine.airC)).toBeLessThan(0.05);
  expect(Math.abs(coarse.plateC - fine.plateC)).toBeLessThan(0.1);
  expect(Math.abs(coarse.cocoonC - fine.cocoonC)).toBeLessThan(0.02);
});

test("the wider the door stands open, the warmer the air within ten minutes", () => {
  const shares = [0, 0.15, 0.3, 0.6, 1];
  const airC = shares.map((doorShare) => runChamber(dryChamber(2), BARE, 600, { doorShare }).airC);
  for (let i = 1; i < airC.length; i++) expect(airC[i]).toBeGreaterThan(airC[i - 1]! + 0.5);
  expect(airC.at(-1)).toBeLessThan(20);
});
