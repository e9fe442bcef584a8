import { beforeAll, describe, expect, test } from "vitest";
import type { Winter } from "../labelled.js";
import { drawFridge } from "./fridge.js";
import { beginCourse, liveApart, liveUntil } from "./winter.js";

const SEED = 900_021;
const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_S = 86_400;
const SPEC = { seed: SEED, intervalMs: MINUTE_MS, humidity: true };

function live(spec: typeof SPEC, days: number) {
  const course = beginCourse(spec);
  return { course, readings: liveUntil(course, days * DAY_S) };
}

test("the same seed lives the same days, another seed others", () => {
  const { readings } = live(SPEC, 2);
  expect(readings.length).toBeGreaterThan(2_700);
  expect(live(SPEC, 2).readings).toEqual(readings);
  expect(live({ ...SPEC, seed: SEED + 1 }, 2).readings).not.toEqual(readings);
});

test("fewer readings, or none of humidity, are of the same days", () => {
  const each = live(SPEC, 4);
  const fifth = live({ ...SPEC, intervalMs: 5 * MINUTE_MS }, 4);
  expect(fifth.course.faults).toEqual(each.course.faults);
  expect(each.readings.length / fifth.readings.length).toBeGreaterThan(4.8);
  expect(each.readings.length / fifth.readings.length).toBeLessThan(5.2);
  const meanC = (some: typeof each.readings) =>
    some.reduce((sum, { temperatureC }) => sum + temperatureC!, 0) / some.length;
  expect(Math.abs(meanC(each.readings) - meanC(fifth.readings))).toBeLessThan(0.1);
  const dumb = live({ ...SPEC, humidity: false }, 4);
  const mute = each.readings.map((reading) => ({ ...reading, humidityPct: null }));
  expect(dumb.readings).toEqual(mute);
});

describe("a whole winter", () => {
  let winter: Winter;
  beforeAll(() => {
    winter = liveApart(SPEC);
  }, 60_000);
  const labelsOf = (kind: string) => winter.labels.filter((l) => l.kind === kind);
  const heard = (fromMs: number, toMs: number) =>
    winter.readings.filter((r) => r.takenAtMs >= fromMs && r.takenAtMs < toMs);

  test("is of tenths of a kelvin, in time order, and one reading in fifty is lost", () => {
    const gapsMs = winter.readings
      .slice(1)
      .map((r, i) => r.takenAtMs - winter.readings[i]!.takenAtMs);
    expect(gapsMs.every((gapMs) => gapMs > 0)).toBe(true);
    for (const { temperatureC, humidityPct } of winter.readings.slice(0, 5_000)) {
      expect(Math.abs(temperatureC! * 10 - Math.round(temperatureC! * 10))).toBeLessThan(1e-9);
      expect(humidityPct!).toBeGreaterThanOrEqual(1);
      expect(humidityPct!).toBeLessThan(100);
    }
    const silentMin =
      labelsOf("probe-mute").reduce((s, l) => s + (l.endMs - l.startMs), 0) / MINUTE_MS;
    const lost = 1 - winter.readings.length / (180 * 1_440 - silentMin);
    // Of 250,000 in bursts of 1 to 3 the deviation is 0.05 %.
    expect(Math.abs(lost - 0.02)).toBeLessThan(0.0025);
  });

  test("keeps its household's clock", () => {
    const options = { timeZone: winter.site.timezone, hour: "numeric", hourCycle: "h23" } as const;
    const noonMs = Date.UTC(2026, 0, 15, 12);
    const localHour = Number(new Intl.DateTimeFormat("en", options).format(noonMs));
    const { utcOffsetH } = drawFridge(SEED).household;
    expect(utcOffsetH).not.toBe(0);
    expect(localHour).toBe(12 + utcOffsetH);
  });

  test("is silent while a label says so", () => {
    for (const { startMs, endMs } of labelsOf("probe-mute")) {
      expect(heard(startMs + 1_000, endMs)).toEqual([]);
      expect(heard(endMs, endMs + 10 * MINUTE_MS).length).toBeGreaterThan(5);
    }
  });

  test("is warmer while a door is open, by as much as its label says", () => {
    for (const { startMs, endMs, doorShare, airRiseK } of labelsOf("door-ajar")) {
      expect(doorShare).toBeGreaterThan(0);
      expect(doorShare).toBeLessThanOrEqual(1);
      // A gap of some 5 cm lets in more than a compressor takes out: common practice, no source.
      if (doorShare! > 0.1) expect(airRiseK).toBeGreaterThan(2);
      const later = heard((startMs + endMs) / 2, endMs);
      const meanC = later.reduce((sum, r) => sum + r.temperatureC!, 0) / later.length;
      const usualC = 0.5 * (1.1 + 3.3);
      // The sensor lags by minutes, hangs off the middle and is off by up to 0.4 K; the fridge's
      // own mean is a kelvin off the middle of the band at most.
      expect(Math.abs(meanC - usualC - airRiseK!)).toBeLessThan(1.5 + 0.4 * airRiseK!);
    }
  });

  test("warms beyond 5 °C without a compressor, whose start was due within some hours", () => {
    for (const label of labelsOf("cooling-lost")) {
      const dueMin = (label.nextStartDueMs! - label.startMs) / MINUTE_MS;
      expect(dueMin).toBeGreaterThan(0);
      // Common practice, no source: a compressor rests for minutes to an hour or two.
      expect(dueMin).toBeLessThan(240);
      // To know that, time has not been skipped.
      const meanwhile = heard(label.startMs, label.nextStartDueMs!);
      expect(meanwhile.length).toBeGreaterThan(0.8 * dueMin - 2);
      const atEnd = heard(label.endMs - HOUR_MS, label.endMs).map((r) => r.temperatureC!);
      expect(Math.min(...atEnd)).toBeGreaterThan(5);
    }
    expect(winter.labels.filter((l) => l.nextStartDueMs !== null)).toEqual(
      labelsOf("cooling-lost"),
    );
  });

  test("cools its cocoons below 0 °C by a drifting thermostat, and is put right after", () => {
    const [cold] = labelsOf("over-cooling");
    expect(cold!.cocoonCrosses0AtMs!).toBeGreaterThan(cold!.startMs + HOUR_MS);
    expect(cold!.cocoonCrosses0AtMs!).toBeLessThan(cold!.endMs);
    const mean = (some: readonly { temperatureC: number | null }[]) =>
      some.reduce((sum, { temperatureC }) => sum + temperatureC!, 0) / some.length;
    expect(mean(heard(cold!.endMs - 3 * HOUR_MS, cold!.endMs))).toBeLessThan(-2);
    expect(mean(heard(cold!.endMs + 6 * HOUR_MS, cold!.endMs + 24 * HOUR_MS))).toBeGreaterThan(1);
  });
});
