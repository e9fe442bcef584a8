import { expect, test } from "vitest";
import type { Reading } from "../../../shared/reading.js";
import type { Site } from "../../../shared/site.js";
import { judgePlainly } from "./baseline.js";

const MIN = 60_000;
const SITE: Site = {
  name: "Quillmere shed",
  timezone: "Europe/London",
  chambers: [],
  probes: [{ id: "shed-air", chamberId: "shed", place: "air", intervalMs: MIN }],
};

function tell(temperatures: readonly (number | null)[]): string[] {
  const readings: Reading[] = temperatures.flatMap((temperatureC, i) =>
    temperatureC === null
      ? []
      : [{ probeId: "shed-air", takenAtMs: i * MIN, temperatureC, humidityPct: null }],
  );
  const told = judgePlainly(readings, SITE, temperatures.length * MIN);
  return told.map((t) => `${t.cause} at ${t.atMs / MIN}`);
}

const minutes = (count: number, value: number | null) => Array<number | null>(count).fill(value);

test("ten minutes above 8 °C are told once, nine never", () => {
  expect(tell([2, ...minutes(10, 8.1), 2])).toEqual([]);
  expect(tell([2, ...minutes(40, 8.1), 2])).toEqual(["warm at 11"]);
  expect(tell([2, ...minutes(40, 8), 2])).toEqual([]);
});

test("coming back inside starts it afresh", () => {
  expect(tell([...minutes(11, 9), 7, ...minutes(11, 9)])).toEqual(["warm at 10", "warm at 22"]);
});

test("below 0 °C is told the same way", () => {
  expect(tell([2, ...minutes(15, -0.1)])).toEqual(["cold at 11"]);
});

test("twenty minutes unheard are told, up to the end", () => {
  expect(tell([2, ...minutes(25, null), 2])).toEqual(["probe-mute at 20"]);
  expect(tell([2, ...minutes(19, null), 2])).toEqual([]);
  expect(tell([2, ...minutes(30, null)])).toEqual(["probe-mute at 20"]);
});
