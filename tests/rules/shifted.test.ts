import fc from "fast-check";
import { expect, test } from "vitest";
import { beginJudge, type JudgeEvent, type JudgeState, stepJudge } from "../../rules/judge.js";
import { shiftJudge } from "../../rules/shifted.js";
import type { Finding } from "../../shared/excursion.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { SITE } from "../daemon/intake/rig.js";

const START_MS = Date.UTC(2026, 0, 11);

/** Eighteen hours of a fridge that loses its cooling, a reading a minute. */
function events(seed: number): JudgeEvent[] {
  const failsAt = 300 + (seed % 400);
  return Array.from({ length: 18 * 60 }, (_, minute) => {
    const warmth = minute < failsAt ? 0 : Math.min(14, (minute - failsAt) * 0.06);
    const temperatureC = 2.4 + Math.sin(minute / 7) + warmth;
    const takenAtMs = START_MS + minute * MINUTE_MS;
    return {
      kind: "reading",
      reading: { probeId: "shed-air", takenAtMs, temperatureC, humidityPct: 70 },
    };
  });
}

function run(state: JudgeState, some: readonly JudgeEvent[]) {
  const findings: Finding[] = [];
  for (const event of some) {
    const step = stepJudge(state, event, SITE);
    findings.push(...step.findings);
    state = step.state;
  }
  return { state, findings };
}

const later = (event: JudgeEvent, byMs: number): JudgeEvent =>
  event.kind === "reading"
    ? {
        kind: "reading",
        reading: { ...event.reading, takenAtMs: event.reading.takenAtMs + byMs },
      }
    : event;

/** What was told and how long after the start; ids name the time at which a thing began. */
const told = (findings: readonly Finding[], byMs: number) =>
  findings.map(({ atMs, change, cause, urgency, cocoonC }) => [
    atMs - byMs,
    change,
    cause,
    urgency,
    cocoonC,
  ]);

test("a judgement moved in time finds the same in a stream that is moved as far", () => {
  const hours = fc.integer({ min: -12, max: 12 });
  fc.assert(
    fc.property(hours, fc.nat(1_000), fc.nat(18 * 60), (by, seed, cut) => {
      const all = events(seed);
      const [before, after] = [all.slice(0, cut), all.slice(cut)];
      const half = run(beginJudge(SITE), before);
      const plain = run(half.state, after);
      const moved = after.map((event) => later(event, by * HOUR_MS));
      const shifted = run(shiftJudge(half.state, by * HOUR_MS), moved);
      expect(told(shifted.findings, by * HOUR_MS)).toEqual(told(plain.findings, 0));
    }),
    { numRuns: 12, seed: 1883 },
  );
}, 60_000);

test("what is no instant stays as it is", () => {
  const { state } = run(beginJudge(SITE), events(1));
  const there = shiftJudge(state, 5 * HOUR_MS);
  expect(there.nowMs).toBe(state.nowMs + 5 * HOUR_MS);
  expect(there.chambers[0]!.exposure!.seenMs).toBe(state.chambers[0]!.exposure!.seenMs);
  expect(shiftJudge(there, -5 * HOUR_MS)).toEqual(state);
});
