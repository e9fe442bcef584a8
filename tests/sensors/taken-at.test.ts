import { expect, test } from "vitest";
import type { SensorTime } from "../../sensors/measurement.js";
import { stampMeasurements } from "../../sensors/taken-at.js";
import { DAY_MS, MINUTE_MS, SANE_FROM_MS } from "../../shared/time.js";

const NOW_MS = Date.UTC(2026, 10, 25, 7, 16, 0);
const LIVE = { arrivedAtMs: NOW_MS, clockSane: true, retained: false };
const RETAINED = { ...LIVE, retained: true };
/** A board that woke in 1970 two minutes ago. */
const UNSET = { arrivedAtMs: 2 * MINUTE_MS, clockSane: false, retained: false };

const at = (atMs: number): SensorTime => ({ kind: "absolute", atMs });
const ago = (ms: number): SensorTime => ({ kind: "relative", offsetMs: -ms });
const stampOne = (time: SensorTime | null, arrival: typeof LIVE) =>
  stampMeasurements([time], arrival)[0];

test("a sane time of the sensor's own counts, to the millisecond on both edges", () => {
  for (const atMs of [SANE_FROM_MS, NOW_MS - 3 * DAY_MS, NOW_MS + 10 * MINUTE_MS]) {
    expect(stampOne(at(atMs), LIVE)).toEqual({ kind: "at", atMs });
    expect(stampOne(at(atMs), RETAINED)).toEqual({ kind: "at", atMs });
  }
});

test("otherwise the arrival counts", () => {
  const { arrivedAtMs: atMs } = LIVE;
  for (const time of [null, at(0), at(SANE_FROM_MS - 1), at(NOW_MS + 10 * MINUTE_MS + 1)]) {
    expect(stampOne(time, LIVE)).toEqual({ kind: "at", atMs });
  }
});

test("a time counted back from now is taken from the arrival", () => {
  expect(stampOne(ago(90_000), LIVE)).toEqual({ kind: "at", atMs: NOW_MS - 90_000 });
});

test("a measurement from the future is a count since power-on: the arrival counts", () => {
  expect(stampOne(ago(-600_000), LIVE)).toEqual({ kind: "at", atMs: NOW_MS });
});

test("a sensor whose clock was never set keeps its spacing", () => {
  const minutes = [10, 11, 12].map((minute) => at(minute * MINUTE_MS));
  const expected = [2, 1, 0].map((age) => ({ kind: "at", atMs: NOW_MS - age * MINUTE_MS }));
  expect(stampMeasurements(minutes, LIVE)).toEqual(expected);
});

test("what was retained and cannot say when it was taken is stale", () => {
  for (const time of [null, at(0), ago(0), ago(60_000)]) {
    expect(stampOne(time, RETAINED)).toMatchObject({ kind: "refused", reason: "stale-retained" });
    expect(stampOne(time, { ...UNSET, retained: true })).toMatchObject({ kind: "refused" });
  }
});

test("while our own clock is unset a sensor's sane time counts and all else waits", () => {
  expect(stampOne(at(NOW_MS), UNSET)).toEqual({ kind: "at", atMs: NOW_MS });
  expect(stampOne(null, UNSET)).toEqual({ kind: "untimed", ageMs: 0 });
  expect(stampOne(at(5), UNSET)).toEqual({ kind: "untimed", ageMs: 0 });
  expect(stampOne(ago(60_000), UNSET)).toEqual({ kind: "untimed", ageMs: 60_000 });
  // One time from the far future would make every later reading look late.
  expect(stampOne(at(Date.UTC(2100, 0, 1)), UNSET)).toEqual({ kind: "untimed", ageMs: 0 });
});

test("an age that goes back before any Drowse is refused", () => {
  const refused = { kind: "refused", reason: "time-unknown" };
  expect(stampOne(ago(NOW_MS - SANE_FROM_MS), LIVE)).toMatchObject({ kind: "at" });
  expect(stampOne(ago(NOW_MS - SANE_FROM_MS + 1), LIVE)).toMatchObject(refused);
  expect(stampOne(ago(366 * DAY_MS), UNSET)).toMatchObject({ kind: "untimed" });
  expect(stampOne(ago(366 * DAY_MS + 1), UNSET)).toMatchObject(refused);
});
