import { expect, test } from "vitest";
import {
  type DayHigh,
  judgeRelease,
  type ReleaseFacts,
  type ReleaseRule,
} from "../../../rules/year/release.js";
import { addDays } from "../../../shared/calendar-day.js";

const RULE: ReleaseRule = { warmC: 13, warmDays: 3, conditions: ["warmth", "chill", "bloom"] };
const TODAY = "2026-03-28";

/** Maxima of the days up to and with today, the last one today's. */
const upToToday = (...highsC: (number | null)[]): DayHigh[] =>
  highsC.flatMap((highC, i) =>
    highC === null ? [] : [{ day: addDays(TODAY, i - highsC.length + 1), highC }],
  );

const facts = (changed: Partial<ReleaseFacts> = {}): ReleaseFacts => ({
  today: TODAY,
  highs: upToToday(14, 15, 14),
  chillDays: 140,
  chillNeededDays: 90,
  bloomOn: "2026-03-25",
  ...changed,
});

const word = (changed: Partial<ReleaseFacts>, rule = RULE) =>
  judgeRelease(facts(changed), rule).word;

test("warm days in a row, cold enough behind them and bloom make it ready", () => {
  expect(word({})).toBe("ready");
});

test("13 °C is warm and a hair below is not", () => {
  expect(word({ highs: upToToday(13, 13, 13) })).toBe("ready");
  expect(word({ highs: upToToday(13, 12.99, 13) })).toBe("soon");
});

test("a day that nobody measured ends the row", () => {
  expect(word({ highs: upToToday(14, 14, null, 14, 14) })).toBe("soon");
});

test("a cool morning today does not undo three warm days up to yesterday", () => {
  expect(word({ highs: upToToday(14, 14, 14, 4) })).toBe("ready");
  expect(word({ highs: upToToday(14, 14, 14, 4, 4) })).toBe("soon");
});

test("a warm spell in January is a false spring, and it says what is missing", () => {
  const verdict = judgeRelease(facts({ chillDays: 86, bloomOn: null }), RULE);
  expect(verdict.word).toBe("hold");
  expect(verdict.isFalseSpring).toBe(true);
  expect(verdict.reasons.filter(({ met }) => !met).map(({ condition }) => condition)).toEqual([
    "chill",
    "bloom",
  ]);
});

test("warmth and cold without bloom are no reason to be near", () => {
  expect(word({ bloomOn: null })).toBe("hold");
});

test("bloom of last autumn, or of a day to come, says nothing of today", () => {
  expect(word({ bloomOn: addDays(TODAY, -45) })).toBe("ready");
  expect(word({ bloomOn: addDays(TODAY, -46) })).toBe("hold");
  expect(word({ bloomOn: addDays(TODAY, 1) })).toBe("hold");
});

test("the last fortnight of cold is near, more is not", () => {
  expect(word({ chillDays: 90 })).toBe("ready");
  expect(word({ chillDays: 76 })).toBe("soon");
  expect(word({ chillDays: 75.9 })).toBe("hold");
  expect(word({ chillDays: null })).toBe("hold");
});

test("only what the keeper asks for counts", () => {
  const warmthAlone: ReleaseRule = { ...RULE, conditions: ["warmth"] };
  expect(word({ chillDays: 0, bloomOn: null }, warmthAlone)).toBe("ready");
  expect(word({ highs: upToToday(14) }, warmthAlone)).toBe("soon");
  expect(word({ highs: upToToday(4) }, warmthAlone)).toBe("hold");
});

test("without an outdoors probe it never gets beyond soon, and says that nothing was measured", () => {
  const verdict = judgeRelease(facts({ highs: [] }), RULE);
  expect(verdict.word).toBe("soon");
  expect(verdict.reasons[0]).toMatchObject({ condition: "warmth", known: false, since: null });
});
