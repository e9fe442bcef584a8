import { expect, test } from "vitest";
import type { Piece, ToldForecast } from "../../../daemon/drawing/material.js";
import { whatCame } from "../../../daemon/season/what-came.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";

/** Cocoons at 3 °C, to reach 10 °C in two to four hours, and perhaps 12 °C after five. */
const TOLD: ToldForecast = {
  atMs: 0,
  cocoonC: 3,
  forecast: {
    settlesAtC: { low: 11, high: 15 },
    reaches: [
      { targetC: 10, soonestMin: 120, latestMin: 240 },
      { targetC: 12, soonestMin: 300, latestMin: null },
    ],
  },
};

/** Cocoons that warm by so many degrees an hour from 3 °C, a piece each ten minutes. */
function warming(perHourK: number, hours = 12): Piece[] {
  return Array.from({ length: hours * 6 }, (_, i) => {
    const fromMs = i * 10 * MINUTE_MS;
    const mean = 3 + (perHourK * fromMs) / HOUR_MS;
    return { fromMs, toMs: fromMs + 10 * MINUTE_MS, low: mean, mean, high: mean };
  });
}

const verdicts = (...args: Parameters<typeof whatCame>) =>
  whatCame(...args).map(({ verdict }) => verdict);

test("what comes between the soonest and the latest came as foretold", () => {
  const [ten] = whatCame(TOLD, warming(7 / 3), null, 12 * HOUR_MS);
  expect(ten).toMatchObject({ targetC: 10, verdict: "as-foretold", cameMs: 3 * HOUR_MS });
});

test("what comes outside of them came sooner or later", () => {
  expect(verdicts(TOLD, warming(7), null, 12 * HOUR_MS)[0]).toBe("sooner");
  expect(verdicts(TOLD, warming(7 / 5), null, 12 * HOUR_MS)[0]).toBe("later");
});

test("what was over first holds against no forecast", () => {
  expect(verdicts(TOLD, warming(7 / 3), 2 * HOUR_MS, 12 * HOUR_MS)).toEqual([
    "over-first",
    "over-first",
  ]);
});

test("what is not due yet lies ahead, and what never came by its latest is late", () => {
  expect(verdicts(TOLD, warming(1, 2), null, 2 * HOUR_MS)).toEqual(["ahead", "ahead"]);
  expect(verdicts(TOLD, warming(0.1), null, 5 * HOUR_MS)).toEqual(["later", "ahead"]);
});

test("cocoons that nobody saw came to nothing that is known", () => {
  expect(verdicts(TOLD, [], 6 * HOUR_MS, 12 * HOUR_MS)).toEqual(["not-seen", "not-seen"]);
});

test("cooling is held against its forecast likewise, and what lies behind is left out", () => {
  const cooling: ToldForecast = {
    atMs: 0,
    cocoonC: 1,
    forecast: {
      settlesAtC: { low: -6, high: -4 },
      reaches: [
        { targetC: 1.1, soonestMin: 0, latestMin: 0 },
        { targetC: 0, soonestMin: 30, latestMin: 90 },
      ],
    },
  };
  const course = warming(-1).map((piece) => ({ ...piece, mean: piece.mean - 2 }));
  expect(whatCame(cooling, course, null, 12 * HOUR_MS)).toEqual([
    {
      targetC: 0,
      soonestMs: 30 * MINUTE_MS,
      latestMs: 90 * MINUTE_MS,
      cameMs: HOUR_MS,
      verdict: "as-foretold",
    },
  ]);
});
