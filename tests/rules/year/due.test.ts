import fc from "fast-check";
import { expect, test } from "vitest";
import { type DueChamber, type DueMaterial, listDue } from "../../../rules/year/due.js";
import { addDays } from "../../../shared/calendar-day.js";

const RULE = { inspectDays: 14, weighDays: 30 };

const SHED: DueChamber = {
  chamberId: "shed",
  filledOn: "2025-11-01",
  dampedOn: "2026-01-05",
  inspectedOn: "2026-01-11",
  driesOn: "2026-01-20",
  calendarOn: "2026-01-26",
  isDampEnough: false,
};

const material = (changed: Partial<DueMaterial>): DueMaterial => ({
  chambers: [],
  probes: [],
  samples: [],
  lots: [],
  stages: [],
  ...changed,
});

const due = (changed: Partial<DueMaterial>) => listDue(material(changed), RULE);
const inShed = (changed: Partial<DueChamber>) => due({ chambers: [{ ...SHED, ...changed }] });

test("a chamber is damped by the day on which it falls dry, and inspected each fortnight", () => {
  expect(inShed({})).toEqual([
    { kind: "damp", id: "damp.shed.2026-01-05", on: "2026-01-20", chamberId: "shed", by: "trend" },
    {
      kind: "inspect",
      id: "inspect.shed.2026-01-11",
      on: "2026-01-25",
      chamberId: "shed",
      lastOn: "2026-01-11",
    },
  ]);
});

test("without a trend the calendar tells, unless the box is damp already", () => {
  expect(inShed({ driesOn: null })[1]).toMatchObject({ on: "2026-01-26", by: "calendar" });
  expect(inShed({ driesOn: null, isDampEnough: null })[1]).toMatchObject({ by: "calendar" });
  expect(inShed({ isDampEnough: true })[0]).toMatchObject({ on: "2026-01-20", by: "trend" });
  expect(inShed({ driesOn: null, isDampEnough: true }).map(({ kind }) => kind)).toEqual([
    "inspect",
  ]);
});

test("an inspection before this filling counts for nothing", () => {
  const [, inspect] = inShed({ inspectedOn: "2025-03-01", filledOn: "2026-01-10" });
  expect(inspect).toMatchObject({ on: "2026-01-24", lastOn: null });
});

test("an inspection on the day of the filling is the last one", () => {
  const [, inspect] = inShed({ inspectedOn: "2026-01-10", filledOn: "2026-01-10" });
  expect(inspect).toMatchObject({ on: "2026-01-24", lastOn: "2026-01-10" });
});

test("a damping that moves its day is still the same thing to do, done it is another", () => {
  const idOf = (changed: Partial<DueChamber>) =>
    inShed(changed).find(({ kind }) => kind === "damp")?.id;
  expect(idOf({ driesOn: "2026-01-18" })).toBe(idOf({}));
  expect(idOf({ driesOn: null })).toBe(idOf({}));
  expect(idOf({ dampedOn: "2026-01-20" })).not.toBe(idOf({}));
});

test("a probe is checked when its last check says so, a new one before it is relied on", () => {
  const probes = [
    { probeId: "a", checkOn: "2026-10-01", firstHeardOn: "2025-09-01", isDrifting: false },
    { probeId: "b", checkOn: null, firstHeardOn: "2025-10-10", isDrifting: false },
    { probeId: "c", checkOn: null, firstHeardOn: null, isDrifting: false },
  ];
  expect(due({ probes }).map(({ id, on }) => [id, on])).toEqual([
    ["check.b.2025-10-10", "2025-10-10"],
    ["check.a.2026-10-01", "2026-10-01"],
  ]);
});

test("samples are weighed again, storage ends and stages fall due, soonest first", () => {
  const lots = [
    { lotId: "hedge", coldFromOn: "2025-11-01", latestOn: "2026-05-20" },
    { lotId: "new", coldFromOn: "2025-11-01", latestOn: null },
  ];
  const stage = { lotId: "hedge", latestOn: null, spareDays: null };
  const stages = [
    { ...stage, on: "2026-04-01", size: "small" as const, count: 120 },
    { ...stage, on: "2026-04-05", size: "large" as const, count: 80 },
  ];
  const samples = [{ lotId: "hedge", label: "A", weighedOn: "2026-03-20" }];
  expect(due({ lots, stages, samples }).map(({ id, on }) => [id, on])).toEqual([
    ["release.hedge.small", "2026-04-01"],
    ["release.hedge.large", "2026-04-05"],
    ["weigh.hedge.A.2026-03-20", "2026-04-19"],
    ["storage-ends.hedge.2025-11-01", "2026-05-20"],
  ]);
});

test("no two things that are due have one id", () => {
  const day = fc.integer({ min: 0, max: 200 }).map((n) => addDays("2025-10-01", n));
  const chamber = fc.record({
    chamberId: fc.uuid(),
    filledOn: day,
    dampedOn: fc.option(day),
    inspectedOn: fc.option(day),
    driesOn: fc.option(day),
    calendarOn: day,
    isDampEnough: fc.option(fc.boolean()),
  });
  fc.assert(
    fc.property(fc.array(chamber, { maxLength: 8 }), (chambers) => {
      const ids = due({ chambers }).map(({ id }) => id);
      expect(new Set(ids).size).toBe(ids.length);
    }),
    { seed: 1107 },
  );
});
