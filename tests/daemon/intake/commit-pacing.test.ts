import fc from "fast-check";
import { expect, test } from "vitest";
import {
  beginPacing,
  commitDueAtMs,
  pacingRule,
  spendCommit,
} from "../../../daemon/intake/commit-pacing.js";

const RULE = pacingRule(32, 60_000);

/** Play arrivals against the pacing; every commit happens exactly when it is due. */
function play(arrivalsMs: readonly number[], rule = RULE) {
  let pacing = beginPacing(rule, 0);
  let waiting: number[] = [];
  const commits: Array<{ atMs: number; oldestWaitMs: number; count: number; chased: boolean }> = [];
  const commitUntil = (untilMs: number) => {
    while (waiting.length > 0) {
      const [oldestAtMs, newestAtMs] = [waiting[0]!, waiting.at(-1)!];
      const dueAtMs = commitDueAtMs(
        pacing,
        { count: waiting.length, oldestAtMs, newestAtMs },
        rule,
      );
      const atMs = Math.max(dueAtMs, newestAtMs);
      if (atMs > untilMs) return;
      const chased = oldestAtMs - pacing.committedAtMs <= rule.chaseMs;
      const group = { count: waiting.length, oldestAtMs, newestAtMs };
      pacing = spendCommit(pacing, group, atMs, rule);
      commits.push({ atMs, oldestWaitMs: atMs - oldestAtMs, count: waiting.length, chased });
      waiting = [];
    }
  };
  for (const atMs of arrivalsMs) {
    commitUntil(atMs - 1e-6);
    waiting.push(atMs);
  }
  commitUntil(Number.POSITIVE_INFINITY);
  return commits;
}

const every = (ms: number, count: number, fromMs = 0) =>
  Array.from({ length: count }, (_, i) => fromMs + i * ms);

test("a lone sensor that speaks once a minute has its acknowledgement in 50 ms, for ever", () => {
  const commits = play(every(60_000, 10_000));
  expect(commits.length).toBe(10_000);
  expect(Math.max(...commits.map(({ oldestWaitMs }) => oldestWaitMs))).toBeLessThanOrEqual(50);
});

test("six sensors at ten seconds each settle to two commits a minute at most", () => {
  const arrivals = Array.from({ length: 6 }, (_, i) => every(10_000, 6 * 60 * 8, i * 1_700))
    .flat()
    .sort((a, b) => a - b);
  const commits = play(arrivals);
  const settled = commits.filter(({ atMs }) => atMs > 60 * 60_000);
  const minutes = (settled.at(-1)!.atMs - settled[0]!.atMs) / 60_000;
  expect(settled.length / minutes).toBeLessThanOrEqual(2);
  expect(settled.length / minutes).toBeGreaterThanOrEqual(0.9);
});

test("the first readings after a start are acknowledged at once, however many probes", () => {
  const commits = play(every(500, 240));
  expect(Math.max(...commits.map(({ oldestWaitMs }) => oldestWaitMs))).toBeLessThanOrEqual(50);
});

test("a sender with one message on its way at a time is not starved when the allowance is spent", () => {
  let pacing = { credits: 0, committedAtMs: 0 };
  let atMs = 100_000;
  // The first waits for a credit; each of the rest comes 20 ms after its acknowledgement.
  for (let i = 0; i < 1_000; i++) {
    const group = { count: 1, oldestAtMs: atMs, newestAtMs: atMs };
    const committedAtMs = Math.max(atMs, commitDueAtMs(pacing, group, RULE));
    pacing = spendCommit(pacing, group, committedAtMs, RULE);
    atMs = committedAtMs + 20;
  }
  expect(atMs - 100_000).toBeLessThanOrEqual(60_000 + 1_000 * 25);
});

test("a full group does not wait", () => {
  const pacing = { credits: 0, committedAtMs: 0 };
  const at = (count: number) =>
    commitDueAtMs(pacing, { count, oldestAtMs: 1_000, newestAtMs: 1_000 }, RULE);
  expect(at(31)).toBe(60_000);
  expect(at(32)).toBe(1_000);
});

test("whatever comes and whenever, nothing waits longer than the group's age, and the allowance holds", () => {
  const gaps = fc.array(fc.oneof(fc.nat(40), fc.nat(5_000), fc.nat(200_000)), { maxLength: 400 });
  const check = fc.property(gaps, (gapsMs) => {
    let atMs = 0;
    const arrivals = gapsMs.map((gapMs) => {
      atMs += gapMs;
      return atMs;
    });
    const commits = play(arrivals);
    for (const { oldestWaitMs } of commits) expect(oldestWaitMs).toBeLessThanOrEqual(60_000);
    expect(commits.reduce((sum, { count }) => sum + count, 0)).toBe(arrivals.length);
    // Early commits are paid for: the savings at the start, one a minute, one each 64 readings.
    const early = commits.filter(
      ({ count, oldestWaitMs, chased }) => count < 32 && oldestWaitMs < 60_000 && !chased,
    );
    const earned = 250 + (commits.at(-1)?.atMs ?? 0) / 60_000 + arrivals.length / 64;
    expect(early.length).toBeLessThanOrEqual(earned + 1);
  });
  fc.assert(check, { numRuns: 300, seed: 1883 });
});
