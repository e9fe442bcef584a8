import { describe, expect, test } from "vitest";
import { JudgeSeat } from "../../daemon/intake/judge-seat.js";
import { darkNow } from "../../rules/saw-again.js";
import { seasonOf } from "../../rules/season.js";
import type { Reading } from "../../shared/reading.js";
import type { Place } from "../../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { asReading, asTick, judge, liveCourse, START_MS, siteOf } from "./quillmere.js";

const DAYS = 20;

/** What a probe tells each so many minutes over twenty days at 2 °C and 66 %, give or take. */
function every(
  minutes: number,
  probeId = "shed-air",
  skips: (hour: number) => boolean = () => false,
) {
  const count = (DAYS * 24 * 60) / minutes;
  return Array.from({ length: count }, (_, i): Reading => {
    return {
      probeId,
      takenAtMs: START_MS + i * minutes * MINUTE_MS,
      // A value that never changes is no measurement.
      temperatureC: 2 + ((i % 3) - 1) / 100,
      humidityPct: 66 + ((i % 3) - 1) / 10,
    };
  }).filter(({ takenAtMs }) => !skips((takenAtMs - START_MS) / HOUR_MS));
}

function live(readings: readonly Reading[], places: readonly (readonly [string, Place])[]) {
  const site = siteOf(places);
  const sorted = readings.slice().sort((a, b) => a.takenAtMs - b.takenAtMs);
  const end = asTick(sorted.at(-1)!.takenAtMs + MINUTE_MS);
  const { state, findings } = judge([...sorted.map(asReading), end], site);
  return { site, state, findings, figures: seasonOf(state, site)[0]! };
}

describe.each([45, 60, 90, 120])("a probe that speaks each %s minutes", (minutes) => {
  const { site, state, findings, figures } = live(every(minutes), [["shed-air", "air"]]);

  test("sees all the time that it is there for", () => {
    // All but the first two intervals, in which it is not known yet how often it speaks.
    expect(figures.seenHours).toBeGreaterThan(DAYS * 24 - (3 * minutes) / 60);
    expect(figures.inBandShare).toBe(1);
    // Q10 2.5 against 4 °C, a published range's middle: 2.5 ** -0.2 a day at 2 °C.
    expect(figures.reserveDays! / (figures.seenHours / 24)).toBeCloseTo(2.5 ** -0.2, 4);
    expect(figures.chillDays! * 24).toBeGreaterThan(DAYS * 24 - (4 * minutes) / 60);
    expect(figures.humidityInBandShare).toBe(1);
    expect(figures.dryOn === null || figures.dryOn.basis === "trend").toBe(true);
  });

  test("leaves nothing dark and is not called mute", () => {
    expect(figures.dark?.stretches ?? []).toEqual([]);
    // Its first silence is told: how often it speaks is learned from it.
    expect(findings.filter(({ startedAtMs }) => startedAtMs > START_MS)).toEqual([]);
    const chamber = site.chambers[0]!;
    const lastMs = START_MS + DAYS * 24 * HOUR_MS - minutes * MINUTE_MS;
    expect(darkNow(state.chambers[0]!, lastMs + minutes * MINUTE_MS, chamber)).toBeNull();
    expect(darkNow(state.chambers[0]!, lastMs + 3.1 * HOUR_MS, chamber)).not.toBeNull();
  });
});

test("a reading that such a probe left out leaves its time unseen, and dark", () => {
  const lost = (hour: number) => hour > 199 && hour < 203;
  const { figures } = live(every(120, "shed-air", lost), [["shed-air", "air"]]);
  expect(figures.dark!.hours).toBeCloseTo(6, 0);
  const whole = live(every(120), [["shed-air", "air"]]).figures;
  expect(whole.seenHours - figures.seenHours).toBeCloseTo(6, 1);
});

test("a gap of an hour in a quick probe stays unseen, beside a slow one in the room too", () => {
  const gap = (hour: number) => hour > 100 && hour < 102.5;
  const readings = [...every(1, "shed-air", gap), ...every(120, "room").filter((_, i) => i % 2)];
  const { figures } = live(readings, [
    ["shed-air", "air"],
    ["room", "room"],
  ]);
  expect(figures.dark!.hours).toBeCloseTo(2.5, 1);
});

test("a slow probe in a box speaks for its humidity between its readings too", () => {
  const readings = [...every(5), ...every(120, "shed-box").map((r) => ({ ...r, humidityPct: 74 }))];
  const { figures } = live(readings, [
    ["shed-air", "air"],
    ["shed-box", "box"],
  ]);
  expect(figures.humidityFrom).toBe("box");
  expect(figures.cocoonHumidityPct).toBeCloseTo(74, 6);
  expect(figures.humidityInBandShare).toBe(0);
});

test("the series of the cocoons has a value in each hour that a slow probe saw", () => {
  const seat = new JudgeSeat(siteOf([["shed-air", "air"]]));
  const series = every(120).flatMap((reading, i) => {
    seat.hear({ ...reading, temperatureC: i % 2 === 0 ? 2 : 3 });
    return seat.cocoons();
  });
  const hours = new Set(series.map(({ takenAtMs }) => Math.floor(takenAtMs / HOUR_MS)));
  expect(hours.size).toBeGreaterThan(DAYS * 24 - 8);
  expect(series.every((r, i) => i === 0 || r.takenAtMs > series[i - 1]!.takenAtMs)).toBe(true);
  for (const { temperatureC } of series)
    expect(temperatureC! >= 2 && temperatureC! <= 3).toBe(true);
});

test("two weeks heard each two hours cost about what they do heard each minute", () => {
  const course = liveCourse({ days: 14, seed: 5 });
  const figuresOf = (place: "air" | "box", eachMin: number) => {
    const of = course.readings.filter((r) => r.probeId === `shed-${place}`);
    const heard = of.filter((r) => ((r.takenAtMs - START_MS) / MINUTE_MS) % eachMin < 1);
    return live(heard, [[`shed-${place}`, place]]).figures;
  };
  for (const place of ["air", "box"] as const) {
    const [minutely, slowly] = [figuresOf(place, 1), figuresOf(place, 120)];
    const perDay = ({ reserveDays, seenHours }: typeof minutely) => reserveDays! / seenHours;
    // The air swings by some kelvins between two such readings; a twentieth of the rate is 0.5 K.
    expect(perDay(slowly) / perDay(minutely), place).toBeGreaterThan(0.95);
    expect(perDay(slowly) / perDay(minutely), place).toBeLessThan(1.05);
    const { cocoonHumidityPct } = minutely;
    expect(Math.abs(slowly.cocoonHumidityPct! - cocoonHumidityPct!), place).toBeLessThan(4);
    expect(Math.abs(slowly.mouldIndex! - minutely.mouldIndex!), place).toBeLessThan(0.1);
  }
});
