import { expect, test } from "vitest";
import { RateBound } from "../../../daemon/intake/rate-bound.js";
import { MINUTE_MS, SECOND_MS } from "../../../shared/time.js";

const open = () =>
  new RateBound([
    { id: "slow", intervalMs: MINUTE_MS },
    { id: "fast", intervalMs: 250 },
  ]);

const count = (bound: RateBound, probeId: string, timesMs: readonly number[]) =>
  timesMs.filter((atMs) => bound.admits(probeId, atMs)).length;

const every = (ms: number, count: number) => Array.from({ length: count }, (_, i) => i * ms);

test("a probe that speaks a thousand times too often is cut to one reading a second", () => {
  const admitted = count(open(), "slow", every(60, 10_000));
  expect(admitted).toBe(600);
});

test("a night that comes in at once, in any order, loses nothing", () => {
  const night = every(10 * SECOND_MS, 5_000);
  expect(count(open(), "slow", night)).toBe(5_000);
  expect(count(open(), "slow", night.toReversed())).toBe(5_000);
});

test("a probe set to speak fast may do so", () => {
  expect(count(open(), "fast", every(250, 10_000))).toBe(10_000);
});

test("one probe's flood takes nothing from another, nor from its own next ten seconds", () => {
  const bound = open();
  expect(count(bound, "slow", Array(1_000).fill(5))).toBe(10);
  expect(bound.admits("fast", 5)).toBe(true);
  expect(bound.admits("slow", 10 * SECOND_MS)).toBe(true);
});
