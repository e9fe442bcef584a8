import { expect, test } from "vitest";
import { type AirSample, rememberAir } from "../../rules/recent-air.js";
import { MINUTE_MS, SECOND_MS } from "../../shared/time.js";

/** What is remembered after so many samples at one distance. */
function remembered(stepMs: number, count: number): readonly AirSample[] {
  let recent: readonly AirSample[] = [];
  for (let i = 0; i < count; i++)
    recent = rememberAir(recent, { atMs: 1e12 + i * stepMs, airC: i, hpa: null });
  return recent;
}

test("the last quarter of an hour is remembered, oldest first, the newest last", () => {
  const recent = remembered(MINUTE_MS, 60);
  expect(recent.map((s) => s.airC)).toEqual(Array.from({ length: 16 }, (_, i) => 44 + i));
});

test("a slow probe keeps its last four samples", () => {
  expect(remembered(60 * MINUTE_MS, 20).map((s) => s.airC)).toEqual([16, 17, 18, 19]);
});

test("a fast probe keeps no more than 48", () => {
  const recent = remembered(SECOND_MS, 5_000);
  expect(recent).toHaveLength(48);
  expect(recent[47]!.airC).toBe(4_999);
});

test("what was remembered before is left as it was", () => {
  const before = remembered(MINUTE_MS, 10);
  const copy = [...before];
  rememberAir(before, { atMs: 2e12, airC: 0, hpa: null });
  expect(before).toEqual(copy);
});
