import { expect, test } from "vitest";
import { MEAN_OPENING_S, openDaily } from "../../../sensors/simulated/habits.js";
import { seeded } from "../../../sensors/simulated/seeded.js";

const DAY_MS = 86_400_000;
const openings = openDaily(seeded(4, "openings"), 6, 0, 180 * DAY_MS);
const lengthsS = openings.map((o) => (o.endMs - o.startMs) / 1_000);

test("a door is opened about six times a day, for 5 to 90 s, in waking hours", () => {
  // 1,080 in all; a day's number spreads by 1.2, so the sum by 16: five of them either way.
  expect(Math.abs(openings.length - 1_080)).toBeLessThan(80);
  expect(Math.min(...lengthsS)).toBeGreaterThanOrEqual(4.999);
  expect(Math.max(...lengthsS)).toBeLessThanOrEqual(90.001);
  const hours = openings.map((o) => (o.startMs % DAY_MS) / 3_600_000);
  expect(Math.min(...hours)).toBeGreaterThanOrEqual(6.5);
  expect(Math.max(...hours)).toBeLessThanOrEqual(22.5);
});

test("their mean length is what the closed form of a log-uniform says", () => {
  // (b - a) / ln(b/a) for 5 to 90: 29.4 s.
  expect(MEAN_OPENING_S).toBeCloseTo(29.4, 1);
  const mean = lengthsS.reduce((a, b) => a + b, 0) / lengthsS.length;
  // Standard deviation of one is about 23 s, of the mean 0.7.
  expect(Math.abs(mean - MEAN_OPENING_S)).toBeLessThan(3.5);
});
