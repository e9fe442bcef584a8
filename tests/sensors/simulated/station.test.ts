import { expect, test } from "vitest";
import { runStation, type StationPlan } from "../../../sensors/simulated/station.js";
import { BARE } from "./bare-fridge.js";

const START_MS = Date.UTC(2025, 10, 1);
const PLAN: StationPlan = {
  fridge: { ...BARE, openingsPerDay: 6 },
  seed: 1,
  chamberId: "shed",
  outfit: { intervalMs: 60_000, humidity: true, box: true },
  startMs: START_MS,
  endMs: START_MS + 6 * 3_600_000,
  script: [],
  haste: 60,
  topicBase: "quillmere/shed",
};

test("a station publishes what its probes said, as a sensor would word it", () => {
  const said = [...runStation(PLAN)];
  expect(said.length).toBeGreaterThan(680);
  expect(new Set(said.map((p) => p.topic))).toEqual(
    new Set(["quillmere/shed/air", "quillmere/shed/box"]),
  );
  for (const { payload, reading } of said) {
    const { temperature, humidity, time, ...rest } = JSON.parse(payload);
    expect(rest).toEqual({});
    expect(temperature).toBe(reading.temperatureC);
    expect(humidity).toBe(reading.humidityPct);
    expect(Date.parse(time)).toBe(reading.takenAtMs);
  }
});

test("a temperature-only probe words no humidity", () => {
  const outfit = { ...PLAN.outfit, humidity: false };
  const [first] = runStation({ ...PLAN, outfit });
  expect(Object.keys(JSON.parse(first!.payload))).toEqual(["temperature", "time"]);
});

test("in haste of sixty, an hour passes in a minute", () => {
  const said = [...runStation(PLAN)];
  for (const { dueMs, reading } of said)
    expect(dueMs * 60).toBeCloseTo(reading.takenAtMs - START_MS, 6);
  expect(said.at(-1)!.dueMs).toBeLessThanOrEqual(6 * 60_000);
});

test("a station that would never get on is refused", () => {
  for (const haste of [0, -1, Number.NaN])
    expect(() => [...runStation({ ...PLAN, haste })]).toThrow(RangeError);
});
