import { expect, test } from "vitest";
import { openCorrector } from "../../sensors/corrector.js";
import type { HeldCorrection } from "../../shared/check.js";
import type { Reading } from "../../shared/reading.js";

const add = (
  atPivot: number,
  fromMs: number,
  madeAtMs = fromMs,
  more: Partial<HeldCorrection> = {},
): HeldCorrection => ({
  checkId: `check of ${madeAtMs}`,
  probeId: "shed-air",
  quantity: "temperature",
  madeAtMs,
  fromMs,
  correction: { pivot: 0, atPivot, slope: 0, low: 0, high: 0 },
  ...more,
});
const at = (takenAtMs: number, temperatureC: number | null, humidityPct: number | null = null) =>
  ({ probeId: "shed-air", takenAtMs, temperatureC, humidityPct }) satisfies Reading;

test("a reading of a probe that nobody checked is the same reading", () => {
  const reading = at(1, 2.5, 60);
  expect(openCorrector([]).correct(reading)).toBe(reading);
  const other = openCorrector([add(1, 0, 0, { probeId: "loft-air" })]);
  expect(other.correct(reading)).toBe(reading);
});

test("a correction holds from its own time on, until a later check's", () => {
  const { correct, inForce } = openCorrector([add(-0.5, 1_000), add(0.25, 2_000)]);
  expect(correct(at(999, 2)).temperatureC).toBe(2);
  expect(correct(at(1_000, 2)).temperatureC).toBe(1.5);
  expect(correct(at(1_999, 2)).temperatureC).toBe(1.5);
  expect(correct(at(2_000, 2)).temperatureC).toBe(2.25);
  expect(inForce("shed-air", "temperature", 1_500)?.checkId).toBe("check of 1000");
  expect(inForce("shed-air", "temperature", 999)).toBeNull();
  expect(inForce("shed-air", "humidity", 1_500)).toBeNull();
});

test("a check that is dated back takes the place of one made before it", () => {
  // Made at 5,000 and dated back to 500, before the check made at 1,000.
  const { correct } = openCorrector([add(-0.5, 1_000), add(1, 500, 5_000)]);
  expect(correct(at(499, 2)).temperatureC).toBe(2);
  expect(correct(at(500, 2)).temperatureC).toBe(3);
  expect(correct(at(1_500, 2)).temperatureC).toBe(3);
});

test("a line corrects warm and cold values differently, and no further than it was checked", () => {
  const line = { pivot: 10, atPivot: 0, slope: 0.1, low: 0, high: 20 };
  const { correct } = openCorrector([add(0, 0, 0, { correction: line })]);
  expect(correct(at(1, 0)).temperatureC).toBe(-1);
  expect(correct(at(1, 20)).temperatureC).toBe(21);
  expect(correct(at(1, 40)).temperatureC).toBe(41);
});

test("each quantity has its own correction, and humidity stays humidity", () => {
  const damp = (atPivot: number) => openCorrector([add(atPivot, 0, 0, { quantity: "humidity" })]);
  expect(damp(3).correct(at(1, 2, 60))).toEqual(at(1, 2, 63));
  expect(damp(3).correct(at(1, 2, 99)).humidityPct).toBe(100);
  expect(damp(-3).correct(at(1, 2, 2)).humidityPct).toBeGreaterThan(0);
  expect(damp(3).correct(at(1, 2, null)).humidityPct).toBeNull();
});

test("a number that only a fault says is left as it is, for it is known by it", () => {
  const { correct } = openCorrector([add(-0.5, 0)]);
  // 85 °C: DS18B20 datasheet, power-on reset value. −127 °C: common practice of its drivers.
  for (const fault of [85, -127, 3276.7]) expect(correct(at(1, fault)).temperatureC).toBe(fault);
});

test("what a probe says while it is not in its place is nothing", () => {
  const absence = { probeId: "shed-air", fromMs: 1_000, untilMs: 2_000 };
  const { correct } = openCorrector([add(-0.5, 0)], [absence]);
  expect(correct(at(999, 2)).temperatureC).toBe(1.5);
  expect(correct(at(1_000, 0, 60))).toEqual(at(1_000, null));
  expect(correct(at(1_999, 0, 60))).toEqual(at(1_999, null));
  expect(correct(at(2_000, 2)).temperatureC).toBe(1.5);
});

test("as of an instant, what holds then holds for readings of any time", () => {
  const { asOf } = openCorrector([add(-0.5, 1_000), add(0.25, 2_000)]);
  expect(asOf(1_500).correct(at(1, 2)).temperatureC).toBe(1.5);
  expect(asOf(2_500).correct(at(1, 2)).temperatureC).toBe(2.25);
  expect(asOf(500).correct(at(5_000, 2)).temperatureC).toBe(2);
});
