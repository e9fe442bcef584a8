import { expect, test } from "vitest";
import { profileOf } from "../../../rules/species.js";
import { latestDay, remarkOn, soundStorageDays } from "../../../rules/year/lot-remarks.js";
import type { LotSeason } from "../../../rules/year/lot-season.js";
import { addDays } from "../../../shared/calendar-day.js";

const PROFILE = profileOf("osmia-bicornis");
const COLD_FROM = "2025-10-20";
const TODAY = "2026-02-01";

/** A lot that spent so many days at a steady temperature, by the rate of Q10 = 2.5 about 4 °C. */
const season = (days: number, atC: number, changed: Partial<LotSeason> = {}): LotSeason => ({
  storedDays: days,
  seenDays: days,
  chillDays: days,
  reserveDays: days * 2.5 ** ((atC - 4) / 10),
  reserveDaysSpan: { low: days, high: days },
  degreeHoursAbove: 0,
  degreeHoursBelow: 0,
  cocoonSpanC: { low: atC, high: atC },
  hotHours: 0,
  mouldIndex: 0,
  worst: null,
  ...changed,
});

const QUIET = { warmDays: 20, outDays: 0, latestOn: "2026-05-08" };
const kinds = (lot: Partial<typeof QUIET>, changed: Partial<LotSeason> = {}, today = TODAY) =>
  remarkOn({ ...QUIET, ...lot }, season(100, 2, changed), PROFILE, today).map(({ kind }) => kind);

test("storage in the cold band is sound for as long as is usual", () => {
  // SARE Handbook 11 (2010), appendix A: roughly 100 to 200 days in the cold.
  expect(soundStorageDays(season(100, 2), PROFILE)).toBe(200);
  expect(latestDay(COLD_FROM, season(100, 2), PROFILE)).toBe(addDays(COLD_FROM, 200));
  expect(latestDay(null, season(0, 2), PROFILE)).toBeNull();
});

test("a warm fridge shortens it, and one that never suits leaves none", () => {
  // Bosch and Kemp (2003): at 7 °C males bore 150 days and not 210; at 10 °C none at all.
  expect(soundStorageDays(season(100, 6.9), PROFILE)).toBe(150);
  expect(soundStorageDays(season(100, 9.9), PROFILE)).toBe(0);
});

test("a reserve that burns fast ends it sooner than the matrix does", () => {
  // At 6.9 °C 1.304 times as fast, so the reserve of 200 days is spent after 153: the matrix
  // speaks. At 4.5 °C, which the matrix counts to its row of 7 °C, it speaks as well. At 4 °C
  // both allow what is usual.
  expect(soundStorageDays(season(100, 4.5), PROFILE)).toBe(150);
  expect(soundStorageDays(season(100, 4), PROFILE)).toBe(200);
  const patient = {
    ...PROFILE,
    storageDays: { ...PROFILE.storageDays, value: { low: 50, high: 120 } },
  };
  // 120 days of reserve at 1.3044 a day are spent after 91.996 days, of which 91 are whole.
  expect(soundStorageDays(season(80, 6.9), patient)).toBe(91);
});

test("two weeks say too little of how warm a winter is", () => {
  expect(soundStorageDays(season(13, 9.9), PROFILE)).toBe(200);
});

test("nothing is said of a lot that is as it should be", () => {
  expect(kinds({})).toEqual([]);
});

test("four weeks of warmth before the cold are allowed, more came late", () => {
  expect(kinds({ warmDays: 28 })).toEqual([]);
  expect(kinds({ warmDays: 29 })).toEqual(["came-late"]);
});

test("the end of sound storage is said a month ahead, and after it", () => {
  const on = "2026-05-08";
  expect(kinds({ latestOn: on }, {}, addDays(on, -31))).toEqual([]);
  expect(kinds({ latestOn: on }, {}, addDays(on, -30))).toEqual(["ends"]);
  const [ended] = remarkOn({ ...QUIET, latestOn: on }, season(200, 2), PROFILE, addDays(on, 3));
  expect(ended).toEqual({ kind: "ends", on, daysLeft: -3 });
});

test("warmth in store, days out of the cold and time in the dark are said", () => {
  expect(kinds({}, { hotHours: 1 })).toEqual(["too-warm"]);
  expect(kinds({ outDays: 1.9 })).toEqual([]);
  expect(kinds({ outDays: 2 })).toEqual(["taken-out"]);
  expect(kinds({}, { seenDays: 90.1 })).toEqual([]);
  expect(kinds({}, { seenDays: 90 })).toEqual(["unseen"]);
  expect(kinds({}, { storedDays: 10, seenDays: 8 })).toEqual([]);
});
