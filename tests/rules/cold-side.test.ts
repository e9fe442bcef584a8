import { beforeAll, describe, expect, test } from "vitest";
import type { Happening } from "../../sensors/simulated/script.js";
import type { Finding } from "../../shared/excursion.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import {
  asReading,
  type Course,
  dayMs,
  judge,
  judgeCourse,
  lettersOf,
  liveCourse,
  START_MS,
  siteOf,
} from "./quillmere.js";

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

describe("cocoons that come near frost each six hours, as they did when it was told", () => {
  /** A box read each minute: 1.8 °C, and for twenty minutes each six hours so cold. */
  const dipping = (dipsC: readonly number[]) => {
    const readings = dipsC.flatMap((dipC, dip) =>
      Array.from({ length: 6 * 60 }, (_, minute) => ({
        probeId: "shed-box",
        takenAtMs: START_MS + (dip * 6 * 60 + minute) * MINUTE_MS,
        temperatureC: minute >= 300 && minute < 320 ? dipC : 1.8,
        humidityPct: null,
      })),
    );
    const { findings } = judge(readings.map(asReading), siteOf([["shed-box", "box"]]));
    return findings.filter((f) => f.change === "opened").map((f) => f.urgency);
  };

  test("cost one letter, and are noted after that", () => {
    expect(dipping([0.4, 0.4, 0.35, 0.4])).toEqual(["visit", "note", "note", "note"]);
  });

  test("cost another once they come clearly deeper", () => {
    expect(dipping([0.44, 0.4, 0.1])).toEqual(["visit", "note", "visit"]);
    expect(dipping([0.44, 0.16, 0.14])).toEqual(["visit", "note", "visit"]);
  });

  test("cost one more after they were at frost itself", () => {
    expect(dipping([-0.5, 0.4, 0.4])).toEqual(["visit", "visit", "note"]);
  });
});
