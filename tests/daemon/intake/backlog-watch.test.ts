import { expect, test } from "vitest";
import { BacklogWatch } from "../../../daemon/intake/backlog-watch.js";

const HOUR_MS = 3_600_000;

test("a start waits three seconds for what was kept back", () => {
  const watch = new BacklogWatch(1_000);
  expect([watch.isPouring(1_000), watch.isPouring(3_999), watch.isPouring(4_000)]).toEqual([
    true,
    true,
    false,
  ]);
});

test("old readings keep it waiting, for a minute at most; new ones do not", () => {
  const watch = new BacklogWatch(0);
  for (let atMs = 0; atMs < 60_000; atMs += 1_000) {
    watch.saw(HOUR_MS, atMs);
    expect(watch.isPouring(atMs + 999), `${atMs}`).toBe(true);
  }
  expect(watch.isPouring(60_000)).toBe(false);
  const fresh = new BacklogWatch(0);
  for (let atMs = 0; atMs < 10_000; atMs += 100) fresh.saw(5_000, atMs);
  expect(fresh.isPouring(3_000)).toBe(false);
});

test("a sensor that comes back after an hour begins a new wait", () => {
  const watch = new BacklogWatch(0);
  watch.saw(HOUR_MS, 500_000);
  expect([watch.isPouring(502_999), watch.isPouring(503_000)]).toEqual([true, false]);
});
