import fc from "fast-check";
import { expect, test } from "vitest";
import { massLoss } from "../../../rules/year/mass-loss.js";
import { DAY_MS } from "../../../shared/time.js";

const at = (day: number, massG: number, scaleG = 0.01) => ({ atMs: day * DAY_MS, massG, scaleG });

test("two weighings give the loss between them, as sure as the scale is", () => {
  const loss = massLoss([at(0, 3.2), at(60, 3.1)])!;
  // By hand: 0.1 g in 60 days is 0.05 g in 30, which is 1.5625 % of 3.2 g.
  expect(loss.pctIn30Days).toBeCloseTo(1.5625, 10);
  // By hand, JCGM 100:2008, F.2.2.1: a step of 0.01 g is 0.01/√12 g, twice over √2/60 a day.
  expect(loss.expandedPct).toBeCloseTo(0.125, 3);
  expect(loss).toMatchObject({ weighings: 2, days: 60, isSeen: true });
});

test("of two scales the coarser says how sure the loss is", () => {
  const loss = massLoss([at(0, 3.2, 0.01), at(60, 3.1, 0.1)])!;
  // By hand: ten times the step of the first scale, ten times the doubt of two weighings on it.
  expect(loss.expandedPct).toBeCloseTo(1.25, 2);
  expect(massLoss([at(0, 3.2, 0.1), at(60, 3.1, 0.01)])!.expandedPct).toBe(loss.expandedPct);
});

test("what scatters about the line makes it less sure, the more so the fewer they are", () => {
  const loss = massLoss([at(0, 3.2), at(30, 3.16), at(60, 3.08)])!;
  expect(loss.pctIn30Days).toBeCloseTo(1.875, 10);
  // By hand: s = √(8/3)·10⁻² g, slope's 3.849·10⁻⁴ g/d, times 12.71 for one degree of freedom
  // (JCGM 100:2008, table G.2), is 4.586 % in 30 days.
  expect(loss.expandedPct).toBeCloseTo(4.586, 2);
  expect(loss.isSeen).toBe(false);
});

test("a sample that did not change within the scale's step lost nothing that is seen", () => {
  expect(massLoss([at(0, 3.2), at(30, 3.2)])).toMatchObject({ pctIn30Days: -0, isSeen: false });
});

test("one weighing, or several of one instant, tell nothing", () => {
  expect(massLoss([])).toBeNull();
  expect(massLoss([at(0, 3.2)])).toBeNull();
  expect(massLoss([at(5, 3.2), at(5, 3.1)])).toBeNull();
});

test("neither the order of weighings nor the unit of mass matters", () => {
  const weighing = fc.record({
    day: fc.integer({ min: 1, max: 200 }),
    massG: fc.double({ min: 1, max: 20, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(weighing, { minLength: 1, maxLength: 8 }), (some) => {
      const all = [at(0, 5), ...some.map(({ day, massG }) => at(day, massG))];
      const grains = all.map((w) => ({ ...w, massG: w.massG * 15.4, scaleG: w.scaleG * 15.4 }));
      const [a, b] = [massLoss(all)!, massLoss(grains.reverse())!];
      // Of several first weighings at one instant any may be first; here there is only one.
      expect(b.pctIn30Days).toBeCloseTo(a.pctIn30Days, 6);
      expect(b.expandedPct).toBeCloseTo(a.expandedPct, 6);
    }),
    { seed: 1107 },
  );
});
