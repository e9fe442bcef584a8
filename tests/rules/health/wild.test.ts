import { describe, expect, test } from "vitest";
import { draw, seeded } from "../../../sensors/simulated/seeded.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { asReading, asTick, judge, liveCourse, START_MS, siteOf } from "../quillmere.js";

const SITE = siteOf([["shed-air", "air"]]);
const at = (min: number, temperatureC: number | null, humidityPct: number | null = null) =>
  ({
    probeId: "shed-air",
    takenAtMs: START_MS + min * MINUTE_MS,
    temperatureC,
    humidityPct,
  }) satisfies Reading;

/** A value each minute, the given ones in place of sound ones. */
function tell(minutes: number, odd: Readonly<Record<number, number>>) {
  const readings = Array.from({ length: minutes }, (_, i) => at(i, odd[i] ?? 2 + (i % 7) / 10));
  const end = asTick(START_MS + (minutes + 1) * MINUTE_MS);
  const { findings, state } = judge([...readings.map(asReading), end], SITE);
  const wild = findings.filter(({ cause }) => cause === "probe-wild");
  return { wild, state, others: findings.filter(({ cause }) => cause !== "probe-wild") };
}

const said = (findings: readonly Finding[]) => findings.map((f) => `${f.change} ${f.urgency}`);
const minuteOf = ({ atMs }: Finding) => (atMs - START_MS) / MINUTE_MS;

test("one 85 °C after power-on is noted by its name and over an hour later", () => {
  // Maxim, DS18B20 datasheet: the power-on reset value of the temperature register is +85 °C.
  const { wild, state } = tell(180, { 30: 85 });
  expect(said(wild)).toEqual(["opened note", "ended note"]);
  expect(wild[0]!.comparedWith).toMatch(/^85\.0 °C, which a DS18B20 holds after power-on/);
  expect(minuteOf(wild[1]!)).toBeGreaterThanOrEqual(90);
  expect(minuteOf(wild[1]!)).toBeLessThan(92);
  expect(state.chambers[0]!.exposure!.warmestC).toBeLessThan(3);
});

test("a lost bus that says −127 °C and nothing else asks for a visit as silence does", () => {
  // −127 °C: what common drivers of that chip give where no device answers; common practice.
  const dead = Object.fromEntries(Array.from({ length: 30 }, (_, i) => [60 + i, -127]));
  const { wild, others, state } = tell(90, dead);
  expect(said(wild)).toEqual(["opened note", "raised visit"]);
  expect(wild[0]!.comparedWith).toMatch(/−127\.0 °C, .*nothing answers on its bus/);
  // Five bad values, or nothing good for three intervals and four minutes.
  expect(minuteOf(wild[1]!) - 60).toBeLessThanOrEqual(8);
  expect(others).toEqual([]);
  expect(state.chambers[0]!.exposure!.coldestC).toBeGreaterThanOrEqual(2);
});

test("a value in another unit is called impossible, and its unit asked after", () => {
  const { wild } = tell(20, { 10: 275.4 });
  expect(wild[0]!.comparedWith).toMatch(
    /^275\.4 °C, warmer than any fridge or room; its unit may be set wrong/,
  );
});

test("humidity that air cannot have is noted and leaves the temperature alone", () => {
  const readings = Array.from({ length: 60 }, (_, i) =>
    at(i, 2 + (i % 7) / 10, i === 30 ? -6 : 65 + (i % 5)),
  );
  const { findings, state } = judge([...readings.map(asReading), asTick(START_MS + HOUR_MS)], SITE);
  expect(findings.map(({ cause }) => cause)).toEqual(["probe-wild"]);
  // An empty register of an SHT4x: −6 %RH (datasheet 2020, RH = −6 + 125·S/65535).
  expect(findings[0]!.comparedWith).toBe("−6.0 % humidity, drier than any air");
  expect(state.health.probes[0]!.goodAtMs).toBe(readings.at(-1)!.takenAtMs);
});

test("a probe of humidity alone with one bad value is no blind one", () => {
  const readings = Array.from({ length: 60 }, (_, i) => at(i, null, i === 10 ? 130 : 65 + (i % 5)));
  const { findings } = judge(readings.map(asReading), SITE);
  expect(findings.map(({ cause, urgency }) => `${cause} ${urgency}`)).toEqual(["probe-wild note"]);
});

describe("a jump", () => {
  test("that comes back is none", () => {
    const { wild, state } = tell(60, { 30: 24 });
    expect(wild[0]!.comparedWith).toMatch(/^24\.0 °C between two readings near 2\.\d °C/);
    expect(state.chambers[0]!.exposure!.warmestC).toBeLessThan(3);
  });

  test("that the next reading confirms did happen", () => {
    const warm = Object.fromEntries(Array.from({ length: 30 }, (_, i) => [30 + i, 20]));
    const { wild, state } = tell(60, warm);
    expect(wild).toEqual([]);
    expect(state.chambers[0]!.airC).toBe(20);
  });

  test("after a silence is none at all", () => {
    const before = Array.from({ length: 30 }, (_, i) => at(i, 2));
    const after = Array.from({ length: 10 }, (_, i) => at(60 + i, i === 0 ? 18 : 2));
    const { findings } = judge([...before, ...after].map(asReading), SITE);
    expect(findings.filter(({ cause }) => cause === "probe-wild")).toEqual([]);
  });

  test("of fifteen kelvin is still a door, of more is held back", () => {
    // At minute 30 the sound value is 2.2 °C, and a minute before 2.1 °C.
    expect(tell(60, { 30: 17 }).wild).toEqual([]);
    expect(tell(60, { 30: 17.2 }).wild).toHaveLength(1);
  });
});

test("a probe that keeps going wild asks for a visit at the fifth time", () => {
  const { wild } = tell(120, { 10: 85, 20: 85, 30: 85, 40: 85, 50: 85 });
  expect(said(wild)).toEqual(["opened note", "raised visit", "ended visit"]);
  expect(minuteOf(wild[1]!)).toBeGreaterThanOrEqual(50);
  expect(minuteOf(wild[1]!)).toBeLessThan(52);
});

test("two probes that go wild at once are one walk", () => {
  const site = siteOf([
    ["air-1", "air"],
    ["air-2", "air"],
  ]);
  const readings = Array.from({ length: 120 }, (_, i) =>
    ["air-1", "air-2"].map((probeId) => ({ ...at(i, i < 30 ? 2 + (i % 7) / 10 : -127), probeId })),
  ).flat();
  const { findings } = judge(readings.map(asReading), site);
  const visits = findings.filter((f) => f.cause === "probe-wild" && f.urgency === "visit");
  expect(visits.map(({ probeId, change }) => `${change} ${probeId}`)).toEqual(["raised air-1"]);
});

test.each([1, 2, 3])("no bad value enters a judgement (seed %s)", (seed) => {
  const course = liveCourse({ days: 3, seed });
  const random = seeded(seed, "wild");
  const picked = course.readings.map(() => draw(random) < 0.02);
  const bad = [85, -127, 3276.7, 130, -40];
  const withBad = course.readings.map((r, i) =>
    picked[i] ? { ...r, temperatureC: bad[i % bad.length]!, humidityPct: null } : r,
  );
  // The same readings with nothing where the bad values are.
  const without = course.readings.map((r, i) =>
    picked[i] ? { ...r, temperatureC: null, humidityPct: null } : r,
  );
  const sound = (readings: readonly Reading[]) => {
    const { findings, state } = judge(readings.map(asReading), course.site);
    const { exposure, watch } = state.chambers[0]!;
    return { exposure, watch, told: findings.filter(({ cause }) => cause !== "probe-wild") };
  };
  expect(sound(withBad)).toEqual(sound(without));
});
