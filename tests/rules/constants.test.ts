import { describe, expect, test } from "vitest";
import { cocoonLagOf, warmingOf } from "../../rules/constants.js";
import { followLinear } from "../../rules/lag.js";
import { seasonOf } from "../../rules/season.js";
import type { Site } from "../../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { readingsOf, type Told } from "./damp-course.js";
import { asReading, judge, siteOf } from "./quillmere.js";

const site = siteOf([
  ["shed-air", "air"],
  ["shed-box", "box"],
]);
const setTo = (cocoonLagMs: number): Site => ({
  ...site,
  chambers: [{ ...site.chambers[0]!, cocoonLagMs }],
});

/** Air that saws between 1 and 4 °C in 100 minutes. */
function sawC(hour: number): number {
  const phase = ((hour * 60) % 100) / 100;
  return phase < 0.6 ? 1 + (3 * phase) / 0.6 : 4 - (3 * (phase - 0.6)) / 0.4;
}

/** A box that follows it with this lag, exactly (closed form), minute by minute. */
function boxOf(lagMin: number): (hour: number) => number {
  const values: number[] = [2.5];
  for (let m = 1; m <= 8 * 24 * 60; m++)
    values.push(
      followLinear(values[m - 1]!, sawC((m - 1) / 60), sawC(m / 60), MINUTE_MS, lagMin * MINUTE_MS),
    );
  return (hour) => Math.round(values[Math.round(hour * 60)]! * 100) / 100;
}

function live(days: number, lagMin: number, on: Site, boxUntilHour = Number.POSITIVE_INFINITY) {
  const box = boxOf(lagMin);
  const probes: readonly Told[] = [
    { id: "shed-air", place: "air", c: sawC, pct: null },
    { id: "shed-box", place: "box", c: (h) => (h < boxUntilHour ? box(h) : null), pct: null },
  ];
  return judge(readingsOf(days * 24, probes).map(asReading), on).state;
}

describe("the lag of the cocoons", () => {
  test("is assumed at first, and as learned once box and air have shown it", () => {
    const [young, known] = [0.4, 6].map((days) => seasonOf(live(days, 25, site), site)[0]!);
    expect(young!.cocoonLag!.from).toBe("assumed");
    expect(young!.cocoonLag!.ms).toBe(HOUR_MS);
    const { from, ms, spanMs } = known!.cocoonLag!;
    expect(from).toBe("learned");
    expect(spanMs.low).toBeLessThan(25 * MINUTE_MS);
    expect(spanMs.high).toBeGreaterThan(25 * MINUTE_MS);
    expect(Math.abs(ms / MINUTE_MS - 25)).toBeLessThan(5);
  });

  test("that was set is told as set, whatever box and air have shown since", () => {
    const on = setTo(90 * MINUTE_MS);
    const { cocoonLag } = seasonOf(live(6, 25, on), on)[0]!;
    expect(cocoonLag).toMatchObject({ from: "set", ms: 90 * MINUTE_MS });
    // A quarter off to either side: our choice.
    expect(cocoonLag!.spanMs).toEqual({ low: 72 * MINUTE_MS, high: 112.5 * MINUTE_MS });
  });

  test("learned stands for the cocoons once the box is silent; what the keeper set is never passed over", () => {
    const from = 6 * 24;
    const swing = (on: Site) => {
      const state = live(6.4, 25, on, from);
      return state.chambers[0]!.cocoon.estimateC!;
    };
    const truth = boxOf(25)(6.4 * 24 - 5 / 60);
    expect(Math.abs(swing(site) - truth)).toBeLessThan(0.2);
    const slow = setTo(8 * HOUR_MS);
    expect(Math.abs(swing(slow) - 2.5)).toBeLessThan(0.3);
    expect(seasonOf(live(6, 25, slow), slow)[0]!.cocoonLag!.from).toBe("set");
  });
});

test("constants that nobody knows are wide, and say that they are assumed", () => {
  const chamber = site.chambers[0]!;
  expect(cocoonLagOf(chamber, null)).toEqual({
    ms: HOUR_MS,
    spanMs: { low: HOUR_MS / 2, high: 2 * HOUR_MS },
    from: "assumed",
  });
  expect(warmingOf({ spell: null, lagsMs: [] }).from).toBe("assumed");
  const known = warmingOf({ spell: null, lagsMs: [8 * HOUR_MS, 8.4 * HOUR_MS] });
  expect(known.from).toBe("learned");
  expect(known.spanMs.low).toBeLessThan(8 * HOUR_MS);
  expect(known.spanMs.high).toBeGreaterThan(8.4 * HOUR_MS);
});

test("a compressor that dies teaches the warming, where a probe tells the room", () => {
  const places = siteOf([
    ["shed-air", "air"],
    ["room", "room"],
  ]);
  const diesAt = 4 * 24;
  // Newton's law towards 20 °C with 7 h, from 4 °C on; then it cools again.
  const c = (hour: number) =>
    hour < diesAt
      ? sawC(hour)
      : hour < diesAt + 9
        ? 20 - 16 * Math.exp(-(hour - diesAt) / 7)
        : sawC(hour);
  const probes: readonly Told[] = [
    { id: "shed-air", place: "air", c, pct: null },
    { id: "room", place: "room", c: 20, pct: null },
  ];
  const { state } = judge(readingsOf(5 * 24, probes).map(asReading), places);
  const { warming } = seasonOf(state, places)[0]!;
  expect(warming!.from).toBe("learned");
  expect(Math.abs(warming!.ms / HOUR_MS - 7)).toBeLessThan(0.7);
});
