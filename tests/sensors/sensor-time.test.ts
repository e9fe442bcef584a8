import { expect, test } from "vitest";
import { readSensorTime } from "../../sensors/sensor-time.js";

const AT_MS = Date.UTC(2026, 10, 25, 7, 16, 0);

test.each([
  ["2026-11-25T07:16:00Z"],
  ["2026-11-25T12:46:00+05:30"],
  [AT_MS],
  [AT_MS / 1000],
  [String(AT_MS / 1000)],
  [` ${AT_MS} `],
])("%j is the same moment", (value) => {
  expect(readSensorTime(value)).toEqual({ kind: "absolute", atMs: AT_MS });
});

test("seconds keep their fraction to the millisecond", () => {
  expect(readSensorTime(AT_MS / 1000 + 0.25)).toEqual({ kind: "absolute", atMs: AT_MS + 250 });
});

test("below 10^11 a number is seconds, from there on milliseconds", () => {
  expect(readSensorTime(1e11 - 1)).toEqual({ kind: "absolute", atMs: 1e14 - 1000 });
  expect(readSensorTime(1e11)).toEqual({ kind: "absolute", atMs: 1e11 });
});

test.each([
  [null],
  [undefined],
  [true],
  [{}],
  [[AT_MS]],
  ["yesterday"],
  ["2026-11-25 07:16"],
  [""],
])("%j is no time", (value) => {
  expect(readSensorTime(value)).toBeNull();
});
