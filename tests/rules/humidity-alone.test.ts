import { describe, expect, test } from "vitest";
import { relativeHumidityPct, vapourPressureHpa } from "../../rules/humid-air.js";
import { airHumidity, type HeardHumidity, hearHumidity } from "../../rules/humidity-alone.js";
import { seasonOf } from "../../rules/season.js";
import type { Reading } from "../../shared/reading.js";
import { HOUR_MS, MINUTE_MS, SECOND_MS } from "../../shared/time.js";
import { asReading, dayMs, judge, lettersOf, liveCourse, START_MS, siteOf } from "./quillmere.js";

const ALONE = "shed-hygrometer";
const air = siteOf([
  ["shed-air", "air"],
  [ALONE, "air"],
]);

/** The same readings with the humidity of a place told by a probe of its own, some seconds later. */
function apart(readings: readonly Reading[], laterMs: number): Reading[] {
  return readings
    .flatMap((r): Reading[] => [
      { ...r, humidityPct: null },
      { ...r, probeId: ALONE, takenAtMs: r.takenAtMs + laterMs, temperatureC: null },
    ])
    .sort((a, b) => a.takenAtMs - b.takenAtMs);
}

const figuresOf = (readings: readonly Reading[], site = air) =>
  seasonOf(judge(readings.map(asReading), site).state, site)[0]!;

describe("humidity of the air from a probe that measures nothing else", () => {
  const startMs = dayMs(3) + 2 * HOUR_MS;
  const door = { kind: "door", share: 0.9, startMs, endMs: startMs + 2 * HOUR_MS } as const;
  const course = liveCourse({ days: 4, seed: 3, script: [door] });
  const together = course.readings.filter((r) => r.probeId === "shed-air");
  const whole = figuresOf(together);

  test.each([2, 31])("is judged as if one probe had told both, %s s later", (lateS) => {
    const figures = figuresOf(apart(together, lateS * SECOND_MS));
    expect(figures.humidityFrom).toBe("air");
    // Half a minute apart, air and humidity differ by what a compressor does in it.
    expect(figures.cocoonHumidityPct).toBeCloseTo(whole.cocoonHumidityPct!, 0);
    expect(figures.deficitHpaH! / whole.deficitHpaH!).toBeCloseTo(1, 1);
    expect(figures.mouldIndex).toBeCloseTo(whole.mouldIndex!, 1);
    expect(figures.seenHours).toBeCloseTo(whole.seenHours, 1);
  });

  test("tells a door with its vapour as soon as one probe does", () => {
    const told = (readings: readonly Reading[]) =>
      lettersOf(judge(readings.map(asReading), air).findings)
        .filter(({ cause }) => cause === "door-ajar")
        .map(({ change, atMs }) => `${change} ${Math.round((atMs - door.startMs) / MINUTE_MS)}`);
    const expected = told(together);
    expect(expected[0]).toMatch(/^opened \d$/);
    const split = apart(together, 2 * SECOND_MS);
    expect(told(split)).toEqual(expected);
    const { recent } = judge(split.map(asReading), air).state.chambers[0]!.watch;
    expect(recent.every(({ hpa }) => hpa !== null)).toBe(true);
  });

  test("is known no longer an hour after that probe fell silent", () => {
    const readings = apart(together, 2 * SECOND_MS);
    const silent = (forMs: number) =>
      judge(
        readings
          .filter((r) => r.probeId !== ALONE || r.takenAtMs < dayMs(2))
          .filter((r) => r.takenAtMs < dayMs(2) + forMs)
          .map(asReading),
        air,
      ).state.chambers[0]!;
    expect(silent(6 * MINUTE_MS).humidityPct).not.toBeNull();
    expect(silent(90 * MINUTE_MS).humidityPct).toBeNull();
    expect(silent(90 * MINUTE_MS).slow.water).toBeNull();
  });

  test("does not count where the lead air probe measures its own", () => {
    const both = together.flatMap((r) => [r, { ...r, probeId: ALONE, temperatureC: null }]);
    const wet = both.map((r) => (r.probeId === ALONE ? { ...r, humidityPct: 99 } : r));
    expect(figuresOf(wet).cocoonHumidityPct).toBe(whole.cocoonHumidityPct);
  });
});

test("in a box such a probe tells the humidity at the cocoons, whose warmth another tells", () => {
  const box = siteOf([
    ["shed-box", "box"],
    [ALONE, "box"],
  ]);
  const readings = Array.from({ length: 24 * 60 }, (_, minute): Reading => {
    const takenAtMs = START_MS + minute * MINUTE_MS;
    const isWarmth = minute % 2 === 0;
    return isWarmth
      ? { probeId: "shed-box", takenAtMs, temperatureC: 2, humidityPct: null }
      : { probeId: ALONE, takenAtMs, temperatureC: null, humidityPct: 72 };
  });
  const figures = figuresOf(readings, box);
  expect(figures.humidityFrom).toBe("box");
  expect(figures.cocoonHumidityPct).toBeCloseTo(72, 6);
});

test("where nothing measures the air, its humidity is paired with the cocoons", () => {
  const site = siteOf([
    ["shed-box", "box"],
    [ALONE, "air"],
  ]);
  const readings = Array.from({ length: 24 * 60 }, (_, minute): Reading[] => {
    const takenAtMs = START_MS + minute * MINUTE_MS;
    return [
      { probeId: "shed-box", takenAtMs, temperatureC: 2, humidityPct: null },
      { probeId: ALONE, takenAtMs, temperatureC: null, humidityPct: 72 },
    ];
  }).flat();
  const figures = figuresOf(readings, site);
  expect(figures.humidityFrom).toBe("air");
  expect(figures.cocoonHumidityPct).toBeCloseTo(72, 6);
});

describe("pairing", () => {
  const told = (atMs: number, humidityPct = 60): HeardHumidity => {
    return { probeId: ALONE, place: "air", atMs, humidityPct, freshMs: 8 * MINUTE_MS };
  };
  const warms = [
    { atMs: 0, c: 2 },
    { atMs: 10 * MINUTE_MS, c: 6 },
  ];
  const pairedC = (atMs: number) => {
    const { hpa } = hearHumidity([], [told(atMs)], warms)[0]!;
    return hpa === null ? null : ([2, 6].find((c) => vapourPressureHpa(c, 60) === hpa) ?? NaN);
  };

  test("takes the warmth nearest in time, and none from over half an hour away", () => {
    expect(pairedC(4 * MINUTE_MS)).toBe(2);
    expect(pairedC(6 * MINUTE_MS)).toBe(6);
    expect(pairedC(40 * MINUTE_MS)).toBe(6);
    expect(pairedC(40 * MINUTE_MS + 1)).toBeNull();
  });

  test("holds the vapour, so that warmer air with an old humidity brings none", () => {
    const alone = hearHumidity([], [told(0)], warms);
    const { hpa } = airHumidity(alone, 7 * MINUTE_MS)!;
    expect(hpa).toBe(vapourPressureHpa(2, 60));
    expect(relativeHumidityPct(hpa, 6)).toBeLessThan(60);
    expect(airHumidity(alone, 8 * MINUTE_MS)).not.toBeNull();
    expect(airHumidity(alone, 8 * MINUTE_MS + 1)).toBeNull();
  });
});
