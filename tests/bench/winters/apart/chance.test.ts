import { expect, test } from "vitest";
import { beginChance, drawCount, drawNormal, drawRatioAbout, drawUnit } from "./chance.js";

const DRAWS = 20_000;
const drawn = (draw: () => number) => Array.from({ length: DRAWS }, draw);
const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
const variance = (values: readonly number[]) => mean(values.map((v) => v * v)) - mean(values) ** 2;

test("a stream is that of its seed and purpose, and a copy goes on as it does", () => {
  const first = beginChance(7, "noise");
  const few = (chance = beginChance(7, "noise")) => [1, 2, 3].map(() => drawNormal(chance));
  expect(few()).toEqual(few(first));
  expect(few(beginChance(8, "noise"))).not.toEqual(few());
  expect(few(beginChance(7, "loss"))).not.toEqual(few());
  // After three the fourth is a spare one, which a copy must take along.
  const copy = { ...first };
  expect(few(copy)).toEqual(few(first));
});

test("a uniform draw is even over its tenths", () => {
  const chance = beginChance(1, "even");
  const tenths = Array.from({ length: 10 }, () => 0);
  for (const value of drawn(() => drawUnit(chance))) tenths[Math.floor(value * 10)]! += 1;
  // 2,000 each, with a deviation of 42; five of those are left to chance.
  for (const count of tenths) expect(Math.abs(count - DRAWS / 10)).toBeLessThan(212);
});

test("a normal draw has mean 0 and deviation 1, and two thirds within it", () => {
  const chance = beginChance(2, "normal");
  const values = drawn(() => drawNormal(chance));
  // Deviations of mean and variance over so many: 0.007 and 0.01; five of each.
  expect(Math.abs(mean(values))).toBeLessThan(0.035);
  expect(Math.abs(variance(values) - 1)).toBeLessThan(0.05);
  // 68.27 % of a normal law lie within one deviation: any table of it.
  const inside = values.filter((v) => Math.abs(v) < 1).length / DRAWS;
  expect(Math.abs(inside - 0.6827)).toBeLessThan(0.017);
});

test("a count has its mean for a variance, as Poisson's law has", () => {
  const chance = beginChance(3, "count");
  const values = drawn(() => drawCount(chance, 4.5));
  // Deviations over so many: 0.015 of the mean, 0.05 of the variance; five of each.
  expect(Math.abs(mean(values) - 4.5)).toBeLessThan(0.075);
  expect(Math.abs(variance(values) - 4.5)).toBeLessThan(0.25);
});

test("a ratio about a median stays in its limits, half of it on either side", () => {
  const chance = beginChance(4, "ratio");
  const values = drawn(() => drawRatioAbout(chance, 20, 0.8, 5, 80));
  expect(Math.min(...values)).toBeGreaterThanOrEqual(5);
  expect(Math.max(...values)).toBeLessThanOrEqual(80);
  const below = values.filter((v) => v < 20).length / DRAWS;
  expect(Math.abs(below - 0.5)).toBeLessThan(0.018);
});
