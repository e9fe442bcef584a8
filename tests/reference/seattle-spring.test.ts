import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { expect, test } from "vitest";
import { type DayHigh, judgeRelease, type ReleaseRule } from "../../rules/year/release.js";
import { addDays, type CalendarDay, daysBetween } from "../../shared/calendar-day.js";

/*
 * Daily maxima of Seattle, 2012 to 2015, from the npm package vega-datasets (BSD-3-Clause), whose
 * source for seattle-weather.csv is NOAA's National Climatic Data Center. When the cocoons went
 * into the cold and when bloom was noted are this test's own: the first of November, and the
 * twentieth of March, about when cherries bloom there (from memory).
 */
const require = createRequire(import.meta.url);
const file = require.resolve("vega-datasets");
const csv = readFileSync(file.replace(/build\/.*$/, "data/seattle-weather.csv"), "utf8");
const HIGHS: readonly DayHigh[] = csv
  .trim()
  .split("\n")
  .slice(1)
  .map((line) => line.split(","))
  .map(([day, , highC]) => ({ day: day!, highC: Number(highC) }));

const YEARS = ["2012", "2013", "2014", "2015"];
const RULE: ReleaseRule = { warmC: 13, warmDays: 3, conditions: ["warmth", "chill", "bloom"] };
const CHILL_NEEDED_DAYS = 100;
const coldFrom = (year: string) => `${Number(year) - 1}-11-01`;

/** The first day of a year on which the rule says ready. */
function releaseDay(year: string, rule: ReleaseRule): CalendarDay | undefined {
  const days = HIGHS.filter(({ day }) => day.startsWith(year)).map(({ day }) => day);
  return days.find((today) => {
    const facts = {
      today,
      highs: HIGHS.filter(({ day }) => day <= today),
      chillDays: daysBetween(coldFrom(year), today),
      chillNeededDays: CHILL_NEEDED_DAYS,
      bloomOn: today < `${year}-03-20` ? null : `${year}-03-20`,
    };
    return judgeRelease(facts, rule).word === "ready";
  });
}

/** The same by another way: every run of warm days of the table, written out and looked up. */
function thirdWarmDays(year: string): CalendarDay[] {
  const rows = HIGHS.filter(({ day }) => day.startsWith(year));
  const pattern = rows.map(({ highC }) => (highC >= 13 ? "w" : ".")).join("");
  return [...pattern.matchAll(/(?<=ww)w/g)].map(({ index }) => rows[index]!.day);
}

test("there are four whole years of maxima", () => {
  expect(HIGHS).toHaveLength(1461);
  expect(HIGHS.every(({ highC }) => highC > -15 && highC < 45)).toBe(true);
});

test.each(YEARS)("in %s the day is that of the table read another way", (year) => {
  const chilledOn = addDays(coldFrom(year), CHILL_NEEDED_DAYS);
  const expected = thirdWarmDays(year).find((day) => day >= `${year}-03-20` && day >= chilledOn);
  expect(releaseDay(year, RULE)).toBe(expected);
});

test("a rule of warmth alone lets bees out in winter, and ours does not", () => {
  const naive: ReleaseRule = { ...RULE, conditions: ["warmth"] };
  expect(releaseDay("2012", naive)).toBe("2012-02-05");
  expect(releaseDay("2015", naive)).toBe("2015-01-26");
  for (const year of ["2012", "2015"])
    expect(releaseDay(year, RULE)! >= `${year}-03-20`, year).toBe(true);
});

test.each(["2012-02-05", "2015-01-26"])("on %s it says what speaks against the warmth", (today) => {
  const facts = {
    today,
    highs: HIGHS.filter(({ day }) => day <= today),
    chillDays: daysBetween(coldFrom(today.slice(0, 4)), today),
    chillNeededDays: CHILL_NEEDED_DAYS,
    bloomOn: null,
  };
  const verdict = judgeRelease(facts, RULE);
  expect(verdict).toMatchObject({ word: "hold", isFalseSpring: true });
  expect(verdict.reasons.map(({ condition, met }) => [condition, met])).toEqual([
    ["warmth", true],
    ["chill", false],
    ["bloom", false],
  ]);
});
