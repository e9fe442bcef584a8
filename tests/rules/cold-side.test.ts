import { beforeAll, describe, expect, test } from "vitest";
import type { Happening } from "../../sensors/simulated/script.js";
import type { Finding } from "../../shared/excursion.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";
import { type Course, dayMs, judgeCourse, lettersOf, liveCourse } from "./quillmere.js";

/** Dials that creep colder by so much a day and then stay for a day. */
function creeping(perDayK: number): Happening {
  const startMs = dayMs(3.4);
  return { kind: "dial-creep", perDayK, mostK: -4.5, startMs, endMs: startMs + 4 * DAY_MS };
}

describe.each([-1.2, -2, -3])("a thermostat that drifts by %s K a day", (perDayK) => {
  const drift = creeping(perDayK);
  let course: Course;
  let findings: readonly Finding[];
  beforeAll(() => {
    course = liveCourse({ days: 9, seed: 7, script: [drift] });
    findings = judgeCourse(course).findings;
  });

  test("is told as over-cooling before the cocoons pass 0 °C", () => {
    const told = lettersOf(findings).find((f) => f.cause === "over-cooling")!;
    const frost = course.truths.find(
      ({ atMs, truth }) => atMs > drift.startMs && truth.cocoonC < 0,
    );
    expect(told.atMs).toBeGreaterThan(drift.startMs);
    expect(told.atMs).toBeLessThan(frost?.atMs ?? drift.endMs);
  });

  test("is one excursion, ended once the cocoons are back in the band", () => {
    const thread = findings.filter((f) => f.cause === "over-cooling");
    expect(new Set(thread.map((f) => f.excursionId)).size).toBe(1);
    expect(thread.map((f) => f.change).filter((c) => c !== "raised")).toEqual(["opened", "ended"]);
    const ended = thread[thread.length - 1]!;
    expect(ended.atMs).toBeGreaterThan(drift.endMs);
    expect(ended.cocoonC).toBeGreaterThanOrEqual(1.1);
    expect(ended.cost.degreeHoursBelow).toBeGreaterThan(1);
    expect(ended.cocoonSpanC!.low).toBeLessThan(1);
  });
});

test("a dial turned back after a cold spell is nobody's lost compressor", () => {
  // The air climbs through a top that the cold days have taught; the cocoons are still cold.
  for (const seed of [1, 7]) {
    const course = liveCourse({ days: 9, seed, script: [creeping(-1.5)] });
    const told = lettersOf(judgeCourse(course).findings);
    expect(
      told.filter((f) => f.cause === "cooling-lost"),
      `seed ${seed}`,
    ).toEqual([]);
  }
});

test("thermostat contacts that weld are told before the cocoons pass 0 °C", () => {
  const welded: Happening = {
    kind: "contacts-welded",
    startMs: dayMs(3.4),
    endMs: dayMs(3.4) + 20 * HOUR_MS,
  };
  const course = liveCourse({ days: 5, seed: 8, script: [welded] });
  const told = lettersOf(judgeCourse(course).findings).find((f) => f.cause === "over-cooling")!;
  const frost = course.truths.find(({ atMs, truth }) => atMs > welded.startMs && truth.cocoonC < 0);
  expect(told.atMs).toBeLessThan(frost!.atMs);
});
