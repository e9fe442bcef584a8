import { describe, expect, test } from "vitest";
import { seasonOf } from "../../rules/season.js";
import type { Finding } from "../../shared/excursion.js";
import { HOUR_MS } from "../../shared/time.js";
import { readingsOf, type Told, tendedAt, told } from "./damp-course.js";
import { judge, START_MS, siteOf } from "./quillmere.js";

const airOnly = siteOf([["shed-air", "air"]]);
const withBox = siteOf([
  ["shed-air", "air"],
  ["shed-box", "box"],
]);
const isDark = (f: Finding): boolean => f.excursionId.includes(".dark.");

/** Three days of 2.5 °C, with nothing heard for some hours after the first. */
function silent(hours: number, afterC = 2.5): (hour: number) => number | null {
  return (hour) => (hour < 24 ? 2.5 : hour < 24 + hours ? null : hour < 26 + hours ? afterC : 2.5);
}
const probesOf = (hours: number, afterC?: number): readonly Told[] => [
  { id: "shed-air", place: "air", c: silent(hours, afterC), pct: null },
  { id: "shed-box", place: "box", c: silent(hours, afterC), pct: null },
];

function live(hours: number, afterC?: number, box = false, deeds: Parameters<typeof told>[1] = []) {
  const site = box ? withBox : airOnly;
  const probes = probesOf(hours, afterC).slice(0, box ? 2 : 1);
  const { state, findings } = judge(told(readingsOf(96, probes), deeds), site);
  return { findings, figures: seasonOf(state, site)[0]!, dark: findings.filter(isDark) };
}

test("a silence of forty minutes hides nothing, one of five hours is dark", () => {
  expect(live(40 / 60).figures.dark!.stretches).toEqual([]);
  const { dark } = live(5).figures;
  expect(dark!.hours).toBeCloseTo(5, 0);
  expect(dark!.stretches).toHaveLength(1);
  expect(dark!.stretches[0]!.fromMs).toBeGreaterThanOrEqual(START_MS + 23.9 * HOUR_MS);
});

test("the bound is what a fridge without cooling can do, and a box that was cool after narrows it", () => {
  // Two fifths of the way to a room of at most 23 °C at once, then Newton's law with the assumed
  // fast end of 3 h: after five hours the air is at 23 − 20.5·0.6·exp(−5/3) = 20.7 °C, and cocoons
  // half an hour behind it a little below.
  const { warmestC, uncooledC } = live(5).figures.dark!.stretches[0]!;
  expect(warmestC).toBeGreaterThan(19);
  expect(warmestC).toBeLessThan(20.7);
  expect(uncooledC.low).toBeGreaterThan(2.5);
  const boxed = live(5, 2.5, true).figures.dark!.stretches[0]!;
  expect(boxed.warmestC).toBeLessThanOrEqual(warmestC);
});

describe("the keeper is asked to look", () => {
  test("where the fridge is warm when it is seen again, until a day has passed", () => {
    const { dark } = live(5, 9);
    expect(dark.map((f) => [f.change, f.cause, f.urgency])).toEqual([
      ["opened", "warm", "visit"],
      ["ended", "warm", "visit"],
    ]);
    expect(dark[0]!.beside!.dark!.warmestC).toBeGreaterThan(10);
    expect((dark[1]!.atMs - dark[0]!.atMs) / HOUR_MS).toBeGreaterThanOrEqual(24);
    expect((dark[1]!.atMs - dark[0]!.atMs) / HOUR_MS).toBeLessThan(25);
  });

  test("not where it is as usual again after some hours, but after a whole day unseen", () => {
    expect(live(9).dark).toEqual([]);
    expect(live(30).dark.map((f) => f.change)).toEqual(["opened", "ended"]);
  });

  test("not where the room itself is too cold for harm", () => {
    const places = siteOf([
      ["shed-air", "air"],
      ["room", "room"],
    ]);
    const ask = (roomC: number) => {
      const room: Told = { id: "room", place: "room", c: roomC, pct: null };
      const readings = readingsOf(60, [probesOf(5, 9)[0]!, room]);
      return judge(told(readings, []), places).findings.filter(isDark).length;
    };
    expect(ask(8)).toBe(0);
    expect(ask(18)).toBeGreaterThan(0);
  });

  test("no longer once the keeper has looked", () => {
    const { dark } = live(5, 9, false, [tendedAt(35, "inspected")]);
    expect(dark.map((f) => f.change)).toEqual(["opened", "ended"]);
    expect((dark[1]!.atMs - START_MS) / HOUR_MS).toBeLessThan(35.2);
  });
});

test("the letter that a silent probe is heard again carries what the silence may have held", () => {
  const ended = live(5).findings.find((f) => f.cause === "probe-mute" && f.change === "ended")!;
  expect(ended.beside!.dark!.warmestC).toBeGreaterThan(10);
  // Another probe saw the cocoons meanwhile: nothing was dark.
  const box: Told = { id: "shed-box", place: "box", c: 2.5, pct: null };
  const seen = judge(told(readingsOf(48, [probesOf(5)[0]!, box]), []), withBox).findings;
  const heard = seen.find((f) => f.cause === "probe-mute" && f.change === "ended")!;
  expect(heard.beside?.dark ?? null).toBeNull();
});

test("a probe heard again tells of no dark that was over long before", () => {
  const hears = (hour: number, gaps: readonly (readonly [number, number])[]) =>
    gaps.some(([from, to]) => hour >= from && hour < to) ? null : 2.5;
  const together = [24, 29] as const;
  const probes: readonly Told[] = [
    { id: "shed-air", place: "air", c: (h) => hears(h, [together, [60, 62]]), pct: null },
    { id: "shed-box", place: "box", c: (h) => hears(h, [together]), pct: null },
  ];
  const { findings } = judge(told(readingsOf(72, probes), []), withBox);
  const again = findings.filter((f) => f.probeId === "shed-air" && f.change === "ended");
  expect(again.map((f) => Math.floor((f.atMs - START_MS) / HOUR_MS))).toEqual([29, 62]);
  expect(again[0]!.beside!.dark).toBeDefined();
  // The box saw the cocoons all through the second silence.
  expect(again[1]!.beside?.dark).toBeUndefined();
});
