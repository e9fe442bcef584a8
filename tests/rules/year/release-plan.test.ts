import fc from "fast-check";
import { expect, test } from "vitest";
import { type PlanLot, planRelease } from "../../../rules/year/release-plan.js";
import { addDays } from "../../../shared/calendar-day.js";

const RULE = { malesAheadDays: 4, stageDays: 7 };
const FROM = "2026-04-01";

const lot = (lotId: string, changed: Partial<PlanLot> = {}): PlanLot => ({
  lotId,
  small: 120,
  large: 80,
  malesOutOn: null,
  latestOn: "2026-06-01",
  reserveDays: 140,
  ...changed,
});

const brief = (lots: readonly PlanLot[]) =>
  planRelease(lots, FROM, RULE).map(({ on, lotId, size }) => `${on} ${lotId} ${size}`);

test("males go out ahead of the females of their lot", () => {
  expect(brief([lot("hedge")])).toEqual(["2026-04-01 hedge small", "2026-04-05 hedge large"]);
});

test("whichever lot must go soonest goes first, the others at intervals", () => {
  const lots = [
    lot("late", { latestOn: null }),
    lot("hedge"),
    lot("old", { latestOn: "2026-05-01" }),
  ];
  expect(brief(lots)).toEqual([
    "2026-04-01 old small",
    "2026-04-05 old large",
    "2026-04-08 hedge small",
    "2026-04-12 hedge large",
    "2026-04-15 late small",
    "2026-04-19 late large",
  ]);
});

test("a lot that can't wait for its turn goes sooner, females within their time", () => {
  const lots = [lot("a", { latestOn: "2026-04-06" }), lot("b", { latestOn: "2026-04-07" })];
  expect(brief(lots)).toEqual([
    "2026-04-01 a small",
    "2026-04-03 b small",
    "2026-04-05 a large",
    "2026-04-07 b large",
  ]);
});

test("a lot past its time goes at once and is said to be late", () => {
  const stages = planRelease([lot("old", { latestOn: "2026-03-20" })], FROM, RULE);
  expect(stages.map(({ on, spareDays }) => [on, spareDays])).toEqual([
    ["2026-04-01", -12],
    ["2026-04-05", -16],
  ]);
});

test("of two lots alike the one that spent more of its reserve goes first", () => {
  expect(brief([lot("a", { reserveDays: 120 }), lot("b", { reserveDays: 150 })])[0]).toContain("b");
});

test("a lot of one size has one stage, an empty one none", () => {
  expect(brief([lot("males", { large: 0 }), lot("none", { small: 0, large: 0 })])).toEqual([
    "2026-04-01 males small",
  ]);
});

test("females whose males are out go their days after them, whatever their turn", () => {
  const males = { small: 0, malesOutOn: "2026-03-30" };
  expect(brief([lot("a", { latestOn: "2026-05-01" }), lot("b", males)])).toEqual([
    "2026-04-01 a small",
    "2026-04-03 b large",
    "2026-04-05 a large",
  ]);
  expect(brief([lot("b", { ...males, malesOutOn: "2026-03-01" })])).toEqual(["2026-04-01 b large"]);
});

test("every cocoon is in just one stage, none before the first day", () => {
  const lots = fc.array(
    fc.record({
      lotId: fc.uuid(),
      small: fc.nat(500),
      large: fc.nat(500),
      malesOutOn: fc.option(fc.integer({ min: -9, max: 0 }).map((n) => addDays(FROM, n))),
      latestOn: fc.option(fc.integer({ min: -60, max: 120 }).map((n) => addDays(FROM, n))),
      reserveDays: fc.option(fc.double({ min: 0, max: 300, noNaN: true })),
    }),
    { maxLength: 12 },
  );
  fc.assert(
    fc.property(lots, (some) => {
      const stages = planRelease(some, FROM, RULE);
      const total = some.reduce((sum, { small, large }) => sum + small + large, 0);
      expect(stages.reduce((sum, { count }) => sum + count, 0)).toBe(total);
      expect(stages.every(({ on }) => on >= FROM)).toBe(true);
      expect(stages.map(({ on }) => on)).toEqual(stages.map(({ on }) => on).sort());
    }),
    { seed: 1107 },
  );
});
