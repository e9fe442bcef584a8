import { beforeAll, describe, expect, test } from "vitest";
import type { Happening } from "../../sensors/simulated/script.js";
import type { Finding } from "../../shared/excursion.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import {
  asReading,
  asTick,
  dayMs,
  judge,
  judgeCourse,
  liveCourse,
  START_MS,
  siteOf,
} from "./quillmere.js";

const isHeat = (f: Finding): boolean => ["door-ajar", "cooling-lost", "warm"].includes(f.cause);

describe("a door left open for four hours", () => {
  const door: Happening = {
    kind: "door",
    share: 1,
    startMs: dayMs(3.4),
    endMs: dayMs(3.4) + 4 * HOUR_MS,
  };
  let findings: readonly Finding[];
  beforeAll(() => {
    findings = judgeCourse(liveCourse({ days: 5, seed: 3, script: [door] })).findings.filter(
      isHeat,
    );
  });

  test("is one excursion at a time, and its own until it ends", () => {
    expect(findings.map((f) => f.change)).toEqual(["opened", "ended"]);
    expect(new Set(findings.map((f) => f.excursionId)).size).toBe(1);
    expect(findings.every((f) => f.cause === "door-ajar")).toBe(true);
  });

  test("is told ended after the door is shut, once the cocoons are home", () => {
    const ended = findings[findings.length - 1]!;
    expect(ended.atMs).toBeGreaterThan(door.endMs);
    expect(ended.atMs).toBeLessThan(door.endMs + 13 * HOUR_MS);
    expect(ended.cocoonC).toBeLessThan(4);
  });

  test("is told ended with what it cost", () => {
    const { cost, cocoonSpanC } = findings[findings.length - 1]!;
    expect(cocoonSpanC!.high).toBeGreaterThan(6);
    expect(cost.degreeHoursAbove).toBeGreaterThan(4);
    expect(cost.degreeHoursBelow).toBe(0);
    // Four hours and the recovery, at several times the rate of 4 °C: a day at the most.
    expect(cost.reserveDays).toBeGreaterThan(4 / 24);
    expect(cost.reserveDays).toBeLessThan(1);
  });
});

test("cooling lost does not end and begin again at once", () => {
  const dead: Happening = {
    kind: "compressor-dead",
    startMs: dayMs(3.4),
    endMs: dayMs(3.4) + 20 * HOUR_MS,
  };
  const findings = judgeCourse(liveCourse({ days: 6, seed: 5, script: [dead] })).findings;
  const heat = findings.filter((f) => isHeat(f) && f.atMs > dead.startMs);
  expect(heat.map((f) => `${f.change} ${f.cause}`)).toEqual([
    "opened cooling-lost",
    "ended cooling-lost",
  ]);
  expect(heat[1]!.atMs).toBeGreaterThan(dead.endMs);
});

describe("a fridge that is simply too warm", () => {
  const site = siteOf([
    ["shed-air", "air"],
    ["shed-box", "box"],
  ]);

  /** A day at 2.5 °C, then hours at these temperatures, the box read each minute. */
  function boxAt(hoursAtC: readonly (readonly [hours: number, boxC: number])[]) {
    const events = [];
    let minute = 0;
    for (const [hours, boxC] of [[24, 2.5] as const, ...hoursAtC])
      for (let i = 0; i < hours * 60; i++, minute++) {
        const takenAtMs = START_MS + minute * MINUTE_MS;
        events.push(
          asReading({ probeId: "shed-box", takenAtMs, temperatureC: boxC, humidityPct: null }),
        );
      }
    const endMs = START_MS + minute * MINUTE_MS;
    return judge([...events, asTick(endMs)], site).findings.map((f) => [
      f.change,
      f.cause,
      f.urgency,
      Math.round((f.atMs - START_MS) / HOUR_MS) - 24,
    ]);
  }

  test("by a little is a note, raised to a visit after a day", () => {
    expect(boxAt([[30, 4.5]])).toEqual([
      ["opened", "warm", "note", 1],
      ["raised", "warm", "visit", 24],
    ]);
  });

  test("by much is raised as it gets worse, and ends when the cocoons are home for a while", () => {
    expect(
      boxAt([
        [3, 6],
        [2, 11],
        [3, 2.5],
      ]),
    ).toEqual([
      ["opened", "warm", "visit", 1],
      ["raised", "warm", "rush", 3],
      ["ended", "warm", "rush", 6],
    ]);
  });

  test("is not told again and again as it hovers about the edge", () => {
    const hovering = Array.from({ length: 40 }, (_, i) => [0.25, i % 2 ? 3.2 : 3.5] as const);
    expect(boxAt([[2, 4.5], ...hovering]).filter(([change]) => change === "opened")).toHaveLength(
      1,
    );
  });
});
