import { expect, test } from "vitest";
import { openStay } from "../../../daemon/checks/stay.js";
import { MINUTE_MS } from "../../../shared/time.js";
import { openedStore, temporaryFolder } from "../store/temporary-store.js";

function openAt(leaves: boolean) {
  const store = openedStore(temporaryFolder());
  let nowMs = Date.UTC(2026, 9, 11, 15);
  const clock = { nowMs: () => nowMs, monotonicMs: () => nowMs };
  const stay = openStay(store, "shed-air", clock, leaves);
  const leftMin = () => store.checks.absences().map(({ untilMs }) => (untilMs - nowMs) / MINUTE_MS);
  const go = (min: number) => {
    nowMs += min * MINUTE_MS;
    stay.goesOn(nowMs);
  };
  return { stay, leftMin, go };
}

test("a check that ends without a word holds its probe back for ten minutes at the most", () => {
  const { leftMin, go } = openAt(true);
  expect(leftMin()).toEqual([10]);
  for (let i = 0; i < 30; i++) {
    go(2);
    expect(leftMin()[0]).toBeGreaterThan(4);
    expect(leftMin()[0]).toBeLessThanOrEqual(10);
  }
});

test("once it is over the probe has half an hour to be back at its temperature", () => {
  const { stay, leftMin, go } = openAt(true);
  go(20);
  expect(stay.end()).not.toBeNull();
  expect(leftMin()).toEqual([30]);
});

test("a probe that is checked where it lies is judged all the time", () => {
  const { stay, leftMin, go } = openAt(false);
  go(20);
  expect(stay.end()).toBeNull();
  expect(leftMin()).toEqual([]);
});
