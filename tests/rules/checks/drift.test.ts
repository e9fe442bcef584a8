import { expect, test } from "vitest";
import { driftBetween } from "../../../rules/checks/drift.js";

const level = (atPivot: number, at: number, madeAtMs: number, expanded = 0.1) => ({
  madeAtMs,
  expanded,
  correction: { pivot: at, atPivot, slope: 0, low: at, high: at },
});

test("a probe that needs less added than before shows more", () => {
  const drift = driftBetween(level(0.2, 0, 1), level(-0.3, 0, 2));
  expect(drift.moved).toBeCloseTo(0.5, 12);
  // √(0.1² + 0.1²)
  expect(drift.expanded).toBeCloseTo(0.1414, 4);
  expect(drift.isSeen).toBe(true);
});

test("what two checks may differ anyway is not called drift", () => {
  expect(driftBetween(level(0, 0, 1), level(-0.14, 0, 2)).isSeen).toBe(false);
  expect(driftBetween(level(0, 0, 1), level(-0.15, 0, 2)).isSeen).toBe(true);
});

test("a line is compared where both looked, and between them where they did not meet", () => {
  const line = {
    madeAtMs: 2,
    expanded: 0.1,
    correction: { pivot: 10, atPivot: 0, slope: 0.1, low: 0, high: 20 },
  };
  expect(driftBetween(level(0, 5, 1), line)).toMatchObject({ at: 5, moved: 0.5 });
  expect(driftBetween(level(0, 0, 1), level(0, 10, 2)).at).toBe(5);
});
