import { describe, expect, test } from "vitest";
import { type SteadyRule, steadinessOf, stepOf } from "../../../rules/checks/steadiness.js";
import { MINUTE_MS } from "../../../shared/time.js";

const RULE: SteadyRule = {
  overMs: 5 * MINUTE_MS,
  samplesLeast: 5,
  driftMost: 0.05,
  scatterMost: 0.05,
  silentMs: 4 * MINUTE_MS,
};
const START_MS = Date.UTC(2026, 10, 25, 10);

/** Values a minute apart, and what is said when the last of them has come. */
function said(values: readonly number[], step = 0, stepMs = MINUTE_MS) {
  const samples = values.map((value, i) => ({ atMs: START_MS + i * stepMs, value }));
  const newestMs = START_MS + (values.length - 1) * stepMs;
  return steadinessOf(samples, newestMs, RULE, step);
}

test("values that stand still are steady, and their mean is told", () => {
  expect(said([9, 5, 2, 0.02, 0, 0.02, 0, 0.01, 0.01])).toMatchObject({
    kind: "steady",
    samples: 6,
    mean: expect.closeTo(0.01, 10),
  });
});

describe("on both sides of each limit", () => {
  test("drift: 0.05 over the stretch", () => {
    const climb = (perStretch: number) => [0, 1, 2, 3, 4, 5].map((i) => (i * perStretch) / 5);
    expect(said(climb(0.049)).kind).toBe("steady");
    expect(said(climb(0.051))).toMatchObject({ kind: "drifting", drift: expect.closeTo(0.051, 9) });
    expect(said(climb(-0.051))).toMatchObject({
      kind: "drifting",
      drift: expect.closeTo(-0.051, 9),
    });
  });

  test("scatter: 0.05 about the line", () => {
    // They have no slope, and lie 4a/3 and −2a/3 off their mean: a deviation of a·√(48/9/4).
    const restless = (a: number) => [a, -a, -a, -a, -a, a].map((v) => v + 2);
    expect(said(restless(0.0432)).kind).toBe("steady");
    expect(said(restless(0.0434)).kind).toBe("restless");
  });

  test("silence: four minutes", () => {
    const samples = [0, 1, 2, 3, 4, 5].map((i) => ({ atMs: START_MS + i * MINUTE_MS, value: 2 }));
    const afterMs = (ms: number) => steadinessOf(samples, START_MS + 5 * MINUTE_MS + ms, RULE);
    expect(afterMs(4 * MINUTE_MS).kind).toBe("steady");
    expect(afterMs(4 * MINUTE_MS + 1)).toEqual({ kind: "silent", forMs: 4 * MINUTE_MS + 1 });
  });
});

test("too few values, or values of too short a time, say nothing yet", () => {
  expect(said([]).kind).toBe("too-few");
  expect(said([2, 2, 2, 2])).toEqual({ kind: "too-few", samples: 4, forMs: 3 * MINUTE_MS });
  expect(said([2, 2, 2, 2, 2, 2], 0, 10_000)).toMatchObject({ kind: "too-few", samples: 6 });
});

test("a slow probe is looked at for as long as its five values take", () => {
  expect(said([2, 2, 2, 2, 2, 2], 0, 5 * MINUTE_MS)).toMatchObject({ kind: "steady", samples: 5 });
});

test("a display that jumps by its own step is not called restless for it", () => {
  const flickering = [2, 2.5, 2, 2, 2.5, 2];
  expect(said(flickering).kind).not.toBe("steady");
  expect(said(flickering, 0.5).kind).toBe("steady");
});

test("the step of a display is the smallest there is between two values", () => {
  expect(stepOf([2, 2.0625, 2.25, 2])).toBe(0.0625);
  expect(stepOf([2.1, 2.2, 2.3].map((v) => v + 1e-12))).toBeCloseTo(0.1, 6);
  expect(stepOf([3, 3, 3])).toBeNull();
  expect(stepOf([])).toBeNull();
});
