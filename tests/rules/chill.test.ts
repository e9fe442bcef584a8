import { describe, expect, test } from "vitest";
import {
  type Chill,
  type ColdAir,
  chillUrgency,
  NOT_CHILLED,
  stepChill,
} from "../../rules/chill.js";
import type { Urgency } from "../../shared/excursion.js";
import { DAY_MS, MINUTE_MS } from "../../shared/time.js";

// Trade's fridge band, common practice, no source.
const BAND = { low: 1.1, high: 3.3 };
const START_MS = Date.UTC(2025, 10, 1);

/** What is asked after a minute each at these temperatures, begun after a day of 2 °C. */
function askedAfter(
  minutesAtC: readonly (readonly [minutes: number, cocoonC: number, air?: ColdAir])[],
): Urgency | null {
  let chill: Chill = NOT_CHILLED;
  let atMs = START_MS;
  let asked: Urgency | null = null;
  for (const [minutes, cocoonC, air] of [[24 * 60, 2] as const, ...minutesAtC])
    for (let i = 0; i < minutes; i++) {
      atMs += MINUTE_MS;
      chill = stepChill(chill, cocoonC, air ?? null, BAND, atMs);
      asked = chillUrgency(chill, atMs);
    }
  return asked;
}

describe("cold cocoons ask", () => {
  test.each([
    ["nothing at the band's edge, however long", 60 * 24 * 5, 1.1, null],
    ["nothing a hair below the edge", 60 * 24 * 5, 0.96, null],
    ["a visit after hours plainly below", 60 * 12, 0.8, "visit"],
    ["nothing in the first ten minutes near frost", 10, 0.4, null],
    ["a visit after ten minutes near frost", 11, 0.4, "visit"],
    ["a visit after ten minutes of light frost", 11, -0.9, "visit"],
    ["still only a visit however long above −1 °C", 60 * 24, -0.99, "visit"],
    ["still a visit in the first half hour below −1 °C", 30, -1.01, "visit"],
    ["to run after half an hour below −1 °C", 31, -1.01, "rush"],
  ] as const)("%s", (_name, minutes, cocoonC, asked) => {
    expect(askedAfter([[minutes, cocoonC]])).toBe(asked);
  });
});

describe("a fridge whose thermostat always swings far", () => {
  // Air from 3.2 down to −1.2 °C each two hours, a fridge within its band on average.
  const low: ColdAir = {
    nowC: -1.2,
    meanC: -0.9,
    usualLowC: -1.2,
    steadyLowC: -1.2,
    sunkC: null,
    followedMs: DAY_MS,
  };

  test("plunges and nears frost in none of its usual turns", () => {
    expect(askedAfter([[20, 0.9, low]]), "leads cocoons that are low").toBeNull();
    expect(askedAfter([[20, 0.4, low]]), "near frost").toBeNull();
  });

  test("is near frost all the same below its usual turns, for hours, or nearly at 0 °C", () => {
    expect(askedAfter([[20, 0.4, { ...low, meanC: -1.6 }]])).toBe("visit");
    expect(askedAfter([[180, 0.4, low]])).toBe("visit");
    expect(askedAfter([[20, 0.1, low]])).toBe("visit");
  });

  test("is near frost where the thermostat has crept there within days", () => {
    expect(askedAfter([[20, 0.4, { ...low, steadyLowC: 0.2 }]])).toBe("visit");
  });

  test("is not near frost by an estimate that has just begun in its trough", () => {
    expect(askedAfter([[20, 0.1, { ...low, followedMs: 40 * MINUTE_MS }]])).toBeNull();
  });
});

test("a swing of the thermostat below the band asks nothing", () => {
  // A quarter of an hour of 0.7 °C in every hour, for two days.
  const swings = Array.from({ length: 48 }, () => [[15, 0.7] as const, [45, 2.2] as const]).flat();
  for (let end = 1; end <= swings.length; end += 7)
    expect(askedAfter(swings.slice(0, end)), `after ${end} phases`).toBeNull();
});

test("cocoons home in the band again ask nothing, though the slow mean is still low", () => {
  expect(askedAfter([[60 * 12, 0.8]])).toBe("visit");
  expect(
    askedAfter([
      [60 * 12, 0.8],
      [1, 1.2],
    ]),
  ).toBeNull();
});

describe("air that plunges asks for a visit before the cocoons are cold", () => {
  const plunging: ColdAir = {
    nowC: -1,
    meanC: -0.8,
    usualLowC: 1,
    steadyLowC: 1,
    sunkC: null,
    followedMs: DAY_MS,
  };
  test.each([
    ["after six minutes far below its usual lowest", plunging, 7, 2, "visit"],
    ["not within six minutes", plunging, 6, 2, null],
    ["not above −0.3 °C", { ...plunging, nowC: -0.29 }, 60, 2, null],
    ["not near its usual lowest", { ...plunging, usualLowC: -0.3 }, 60, 2, null],
    [
      "where it leads cocoons that are already low",
      { ...plunging, usualLowC: null },
      7,
      1,
      "visit",
    ],
    ["not where the cocoons are still in the band", { ...plunging, usualLowC: null }, 60, 2, null],
  ] as const)("%s", (_name, air, minutes, cocoonC, asked) => {
    expect(askedAfter([[minutes, cocoonC, air]])).toBe(asked);
  });
});

describe("a thermostat that has sunk", () => {
  const sunk: ColdAir = {
    nowC: 0.5,
    meanC: 0.8,
    usualLowC: 0.4,
    steadyLowC: 0.4,
    sunkC: 1.2,
    followedMs: DAY_MS,
  };
  test.each([
    ["asks for a visit once the cocoons were near 0 °C for half an hour", sunk, 31, 0.5, "visit"],
    ["not within the half hour", sunk, 30, 0.5, null],
    ["asks where they are hardly below the band after an hour and a half", sunk, 91, 1, "visit"],
    ["not sooner, as the next defrost may lift them", sunk, 90, 1, null],
    ["not while the cocoons are in the band", sunk, 60 * 5, 1.1, null],
    ["not where it turns less than a kelvin lower", { ...sunk, sunkC: 0.9 }, 100, 1, null],
  ] as const)("%s", (_name, air, minutes, cocoonC, asked) => {
    expect(askedAfter([[minutes, cocoonC, air]])).toBe(asked);
  });

  test("is not over while a defrost alone warms the cocoons", () => {
    const homeAfter = (air: ColdAir) => {
      let chill: Chill = NOT_CHILLED;
      for (let i = 1; i <= 90; i++)
        chill = stepChill(chill, 2, air, BAND, START_MS + i * MINUTE_MS);
      return chill.back !== null;
    };
    expect(homeAfter(sunk)).toBe(false);
    expect(homeAfter({ ...sunk, sunkC: 0.9 })).toBe(true);
  });
});

test("a band that begins below the frost mark is not near frost in its midst", () => {
  const cold = { low: -1, high: 1 };
  let chill: Chill = NOT_CHILLED;
  for (let i = 1; i <= 600; i++) chill = stepChill(chill, 0, null, cold, START_MS + i * MINUTE_MS);
  expect(chillUrgency(chill, START_MS + 600 * MINUTE_MS)).toBeNull();
});
