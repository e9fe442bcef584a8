import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { relativeHumidityPct, vapourPressureHpa } from "../../rules/humid-air.js";
import { beginWetness, stepWetness, type Wetness } from "../../rules/wetness.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2026, 0, 5);
const FRIDGE_HPA = vapourPressureHpa(3, 70);
const ROOM_HPA = vapourPressureHpa(20, 60);

type Moment = readonly [minute: number, hpa: number, surfaceC: number];

function live(moments: readonly Moment[], from: Wetness = beginWetness()): Wetness {
  return moments.reduce(
    (state, [minute, hpa, surfaceC]) =>
      stepWetness(state, START_MS + minute * MINUTE_MS, hpa, surfaceC),
    from,
  );
}

test("a cold surface in room air grows wet at the rate of the Lewis relation", () => {
  const { filmGPerM2, wetMs } = live([
    [0, ROOM_HPA, 3],
    [60, ROOM_HPA, 3],
  ]);
  // By hand: h = 3 W/(m²·K) over ρ·c_p = 1291 J/(m³·K) and 0.9 is 2.582 mm/s; the vapour pressures,
  // 14.035 and 7.581 hPa (IAPWS), differ by 6.455 hPa, that is 5.065 g/m³ at 276.15 K: 47.1 g in an
  // hour. A percent for the Magnus form.
  expect(Math.abs(filmGPerM2 / 47.1 - 1)).toBeLessThan(0.01);
  expect(wetMs).toBe(HOUR_MS);
});

test("a film evaporates again, and no longer counts once it is gone", () => {
  const wet = live([
    [0, ROOM_HPA, 3],
    [10, ROOM_HPA, 3],
    [10.001, FRIDGE_HPA, 3],
  ]);
  expect(wet.filmGPerM2).toBeGreaterThan(7);
  const later = live([[30, FRIDGE_HPA, 3]], wet);
  expect(later.filmGPerM2).toBeLessThan(wet.filmGPerM2);
  expect(later.filmGPerM2).toBeGreaterThan(0);
  const dry = live(
    [
      [60, FRIDGE_HPA, 3],
      [110, FRIDGE_HPA, 3],
      [500, FRIDGE_HPA, 3],
    ].map(([m, h, c]) => [m!, h!, c!] as const),
    later,
  );
  expect(dry.filmGPerM2).toBe(0);
  // It leaves as fast as its deficit is to what brought it: 6.455 to 2.274 hPa, so that the film of
  // ten minutes lasts about 28 more. The last step is not seen: it is longer than an hour.
  expect(dry.wetMs / MINUTE_MS).toBeGreaterThan(37);
  expect(dry.wetMs / MINUTE_MS).toBeLessThan(40);
});

test("air below saturation never wets a dry surface, and saturated air leaves it as it is", () => {
  const { filmGPerM2, wetMs } = live([
    [0, FRIDGE_HPA, 3],
    [50, FRIDGE_HPA, 3],
    [100, vapourPressureHpa(3, 100), 3],
    [150, vapourPressureHpa(3, 100), 3],
  ]);
  expect(filmGPerM2).toBe(0);
  expect(wetMs).toBe(0);
});

test("below freezing, vapour that would not wet it still leaves frost", () => {
  const hpa = vapourPressureHpa(-5, 97);
  // Over water 97 %, over ice 101.8 % (IAPWS: 421.81 against 401.74 Pa).
  expect(relativeHumidityPct(hpa, -5)).toBeLessThan(100);
  const { filmGPerM2 } = live([
    [0, hpa, -5],
    [50, hpa, -5],
  ]);
  expect(filmGPerM2).toBeGreaterThan(0);
});

describe("time", () => {
  const wet = live([
    [0, ROOM_HPA, 3],
    [30, ROOM_HPA, 3],
  ]);

  test("that stands still or runs back changes nothing", () => {
    expect(live([[30, FRIDGE_HPA, 5]], wet)).toBe(wet);
    expect(live([[29, FRIDGE_HPA, 5]], wet)).toBe(wet);
  });

  test("that was not seen neither wets nor dries", () => {
    const after = live([[91, FRIDGE_HPA, 3]], wet);
    expect(after.filmGPerM2).toBe(wet.filmGPerM2);
    expect(after.wetMs).toBe(wet.wetMs);
    expect(live([[90, FRIDGE_HPA, 3]], wet).wetMs).toBeGreaterThan(wet.wetMs);
  });
});

test("splitting an interval changes neither film nor time", () => {
  const hpa = fc.double({ min: 2, max: 25, noNaN: true });
  const course = fc.array(hpa, { minLength: 2, maxLength: 8 });
  fc.assert(
    fc.property(course, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (values, share) => {
      const whole = values.map((v, i) => [i * 50, v, 3] as const);
      const split = whole.flatMap(([minute, v, c], i) => {
        if (i === 0) return [[minute, v, c] as const];
        const before = whole[i - 1]!;
        const between = before[1] + (v - before[1]) * share;
        return [[before[0] + 50 * share, between, c] as const, [minute, v, c] as const];
      });
      expect(live(split).filmGPerM2).toBeCloseTo(live(whole).filmGPerM2, 8);
      expect(Math.abs(live(split).wetMs - live(whole).wetMs)).toBeLessThan(1);
    }),
    { seed: 32, numRuns: 300 },
  );
});

test("a film has a limit, and time wet never passes time lived", () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.tuple(
          fc.double({ min: 0, max: 25, noNaN: true }),
          fc.double({ min: -5, max: 25, noNaN: true }),
        ),
        { minLength: 2, maxLength: 40 },
      ),
      (course) => {
        const state = live(course.map(([hpa, c], i) => [i * 60, hpa, c] as const));
        expect(state.filmGPerM2).toBeGreaterThanOrEqual(0);
        expect(state.filmGPerM2).toBeLessThanOrEqual(200);
        expect(state.wetMs).toBeLessThanOrEqual((course.length - 1) * HOUR_MS);
      },
    ),
    { seed: 33, numRuns: 300 },
  );
});
