import fc from "fast-check";
import { expect, test } from "vitest";
import { type CocoonHour, lotSeason } from "../../../rules/year/lot-season.js";
import type { Stay } from "../../../rules/year/lot-stays.js";
import type { Excursion, Urgency } from "../../../shared/excursion.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { doorFinding } from "../../daemon/store/temporary-store.js";

const START_MS = Date.UTC(2025, 10, 1);
const day = (days: number) => START_MS + days * DAY_MS;

/** Hours of steady cocoons from day to day. */
const steady = (chamberId: string, from: number, to: number, meanC: number, pct = 65) =>
  Array.from({ length: (to - from) * 24 }, (_, i): CocoonHour => {
    const fromMs = day(from) + i * HOUR_MS;
    const toMs = fromMs + HOUR_MS;
    return { chamberId, fromMs, toMs, meanC, lowC: meanC, highC: meanC, humidityPct: pct };
  });

const stay = (chamberId: string, from: number, to: number | null): Stay => ({
  chamberId,
  fromMs: day(from),
  toMs: to === null ? null : day(to),
});

const seasonOf = (
  stays: readonly Stay[],
  hours: readonly CocoonHour[],
  excursions: readonly Excursion[] = [],
) =>
  lotSeason({
    stays,
    hours,
    excursions,
    bandOf: () => ({ low: 1.1, high: 3.3 }),
    chillBelowC: 7,
    nowMs: day(60),
  });

test("a lot has the figures of each chamber while it was there, and of no other time", () => {
  const hours = [...steady("shed", 0, 60, 0), ...steady("barn", 0, 60, 8)];
  const season = seasonOf([stay("shed", 10, 25), stay("barn", 25, 40)], hours);
  // Half the time at 0 °C and half at 8 °C burns 1.06792 times what 4 °C would: derived from
  // Q10 = 2.5 (from memory, the usual range of dormant insects).
  expect(season.reserveDays).toBeCloseTo(30 * 1.06792, 3);
  expect(season).toMatchObject({ storedDays: 30, seenDays: 30, chillDays: 15 });
  expect(season.cocoonSpanC).toEqual({ low: 0, high: 8 });
  // 15 days at 1.1 K below the band, 15 at 4.7 K above it.
  expect(season.degreeHoursBelow).toBeCloseTo(15 * 24 * 1.1, 9);
  expect(season.degreeHoursAbove).toBeCloseTo(15 * 24 * 4.7, 9);
});

test("an hour at just the warmth of chill counts as chill, one above it does not", () => {
  const chillAt = (meanC: number) =>
    seasonOf([stay("shed", 0, 10)], steady("shed", 0, 10, meanC)).chillDays;
  expect(chillAt(7)).toBe(10);
  expect(chillAt(7.01)).toBe(0);
});

test("a day in a warm room is worth more than four in the cold", () => {
  // 24 h at 20 °C is 4.33 days at 4 °C: derived as above.
  expect(seasonOf([stay("shed", 0, 1)], steady("shed", 0, 1, 20)).reserveDays).toBeCloseTo(
    4.332,
    3,
  );
});

test("while it is still there, its time runs until now", () => {
  const season = seasonOf([stay("shed", 20, null)], steady("shed", 0, 80, 4));
  expect(season).toMatchObject({ storedDays: 40, seenDays: 40 });
  expect(season.reserveDays).toBeCloseTo(40, 9);
});

test("hours that nobody saw add nothing, and time out of the cold is no storage", () => {
  const hours = [...steady("shed", 0, 10, 4), ...steady("shed", 20, 60, 4)];
  const season = seasonOf([stay("shed", 0, 30), stay("shed", 40, 50)], hours);
  expect(season).toMatchObject({ storedDays: 40, seenDays: 30 });
  expect(season.reserveDays).toBeCloseTo(30, 9);
});

test("the hour of a move counts by its share on either side", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 10 * 24 * 60 - 1 }), (minutes) => {
      const movedMs = START_MS + minutes * 60_000;
      const hours = [...steady("shed", 0, 10, 2), ...steady("barn", 0, 10, 6)];
      const before = { chamberId: "shed", fromMs: START_MS, toMs: movedMs };
      const after = { chamberId: "barn", fromMs: movedMs, toMs: day(10) };
      const [both, first, second] = [[before, after], [before], [after]].map((stays) =>
        seasonOf(stays, hours),
      );
      expect(both!.seenDays).toBeCloseTo(10, 9);
      expect(both!.reserveDays).toBeCloseTo(first!.reserveDays + second!.reserveDays, 9);
    }),
    { seed: 1107, numRuns: 40 },
  );
});

test("hours that touch 10 °C are counted, and the extremes are those within the hours", () => {
  const [first, second, ...rest] = steady("shed", 0, 10, 3);
  const swinging = { ...second!, highC: 10, lowC: -1 };
  const season = seasonOf([stay("shed", 0, 10)], [first!, swinging, ...rest]);
  expect(season).toMatchObject({ hotHours: 1, cocoonSpanC: { low: -1, high: 10 } });
});

test("the mould index grows where it was wet, and is not known without humidity", () => {
  const wet = seasonOf([stay("shed", 0, 60)], steady("shed", 0, 60, 3, 100));
  const dry = seasonOf([stay("shed", 0, 60)], steady("shed", 0, 60, 3, 70));
  // Hukka and Viitanen (1999): wood at 3 °C and 100 % reaches index 1 within some 25 days.
  expect(wet.mouldIndex).toBeGreaterThan(1);
  expect(dry.mouldIndex).toBe(0);
  const deaf = steady("shed", 0, 60, 3).map((hour) => ({ ...hour, humidityPct: null }));
  expect(seasonOf([stay("shed", 0, 60)], deaf).mouldIndex).toBeNull();
});

test("the worst excursion is the most urgent, then the dearest, of those it was there for", () => {
  const excursion = (
    id: string,
    from: number,
    to: number | null,
    urgency: Urgency,
    above: number,
  ) => {
    const latest = doorFinding({ excursionId: id, urgency });
    const endedAtMs = to === null ? null : day(to);
    const cost = { ...latest.cost, degreeHoursAbove: above };
    const common = { id, chamberId: "shed", probeId: null, cause: "warm", urgency } as const;
    return {
      ...common,
      startedAtMs: day(from),
      openedAtMs: day(from),
      endedAtMs,
      acknowledgedAtMs: null,
      latest: { ...latest, cost },
    } satisfies Excursion;
  };
  const all = [
    excursion("before", 0, 5, "rush", 900),
    excursion("slight", 12, 13, "visit", 3),
    excursion("dear", 14, 15, "visit", 30),
    excursion("note", 16, 17, "note", 99),
  ];
  const worst = (...more: Excursion[]) =>
    seasonOf([stay("shed", 10, 25)], [], [...all, ...more]).worst?.id;
  expect(worst()).toBe("dear");
  expect(worst(excursion("open", 20, null, "rush", 0))).toBe("open");
  expect(worst({ ...excursion("elsewhere", 20, null, "rush", 0), chamberId: "barn" })).toBe("dear");
  expect(worst(excursion("after", 25, null, "rush", 0))).toBe("dear");
});

test("a lot that was never in the cold went through nothing", () => {
  const season = seasonOf([], steady("shed", 0, 10, 3));
  expect(season).toMatchObject({ storedDays: 0, seenDays: 0, cocoonSpanC: null, worst: null });
});
