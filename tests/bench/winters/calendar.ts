import type { Fridge } from "../../../sensors/simulated/fridge.js";
import type { Happening } from "../../../sensors/simulated/script.js";
import { draw, drawBetween, type Seeded } from "../../../sensors/simulated/seeded.js";
import type { Span } from "../../../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS, SECOND_MS } from "../../../shared/time.js";
import {
  drawCompressorDead,
  drawDoorAjar,
  drawMute,
  drawOverCooling,
  type Fault,
} from "./faults.js";

const DAY_S = DAY_MS / SECOND_MS;

/** How often each thing happens in a winter. */
export type Course = Readonly<{
  days: number;
  doorAjar: number;
  compressorDead: number;
  overCooling: number;
  mute: number;
  longOpenings: number;
  restocks: number;
  powerBlips: number;
  roomHeats: number;
  /** The first fault begins at some time between these, days from the winter's start. */
  firstFaultDays: Span;
}>;

/** A winter of 180 days with eighteen faults, and nothing beyond openings and defrosts between. */
export const PLAIN_COURSE: Course = {
  days: 180,
  doorAjar: 12,
  compressorDead: 2,
  overCooling: 1,
  mute: 3,
  longOpenings: 0,
  restocks: 0,
  powerBlips: 0,
  roomHeats: 0,
  firstFaultDays: { low: 3, high: 12 },
};

/** The same faults among much that resembles them. */
export const HARD_COURSE: Course = {
  ...PLAIN_COURSE,
  longOpenings: 20,
  restocks: 10,
  powerBlips: 4,
  roomHeats: 2,
};

/** A first fault so early that a judge has learned little, days from the winter's start. */
const EARLY: Span = { low: 0.3, high: 1.9 };

/** A fridge's first days, with one door left ajar before a judge has learned much. */
export const YOUNG_COURSE: Course = {
  ...PLAIN_COURSE,
  days: 5,
  doorAjar: 1,
  compressorDead: 0,
  overCooling: 0,
  mute: 0,
  firstFaultDays: EARLY,
};

/** Every fifth seed has its first fault before a judge has learned much. */
export function courseOfSeed(seed: number, course: Course = PLAIN_COURSE): Course {
  return seed % 5 === 0 ? { ...course, firstFaultDays: EARLY } : course;
}

/** A fault with its place in the winter, Unix ms. */
export type Placed = Readonly<{ fault: Fault; startMs: number; endMs: number }>;

/** Faults and what follows them are this far apart, end to start. */
export const APART_MS = 2 * DAY_MS;

/** Place a course's faults in random order and at random distances, at least `APART_MS`. */
export function placeFaults(
  random: Seeded,
  course: Course,
  fridge: Fridge,
  probeIds: readonly string[],
  startMs: number,
): Placed[] {
  const faults = shuffle(random, [
    ...times(course.doorAjar, () => drawDoorAjar(random, fridge)),
    ...times(course.compressorDead, () => drawCompressorDead(random)),
    ...times(course.overCooling, () => drawOverCooling(random)),
    ...times(course.mute, () => drawMute(random, probeIds)),
  ]);
  const { low, high } = course.firstFaultDays;
  const firstMs = Math.round(drawBetween(random, low, high) * DAY_S) * SECOND_MS;
  const usedMs = faults.reduce((sum, f) => sum + f.lengthMs + APART_MS, firstMs);
  const spareMs = course.days * DAY_MS - usedMs;
  if (spareMs < 0)
    throw new RangeError(`${faults.length} faults need more than ${course.days} days`);
  const weights = faults.map(() => -Math.log(1 - draw(random)));
  const whole = weights.reduce((a, b) => a + b, 0);
  let atMs = startMs + firstMs;
  return faults.map((fault, i) => {
    const placed = { fault, startMs: atMs, endMs: atMs + fault.lengthMs };
    const share = (weights[i] ?? 0) / whole;
    atMs = placed.endMs + APART_MS + Math.floor((spareMs * share) / SECOND_MS) * SECOND_MS;
    return placed;
  });
}

/** Harmless things, kept clear of faults: nobody should be told of any of them. */
export function placeHarmless(
  random: Seeded,
  course: Course,
  placed: readonly Placed[],
  startMs: number,
): Happening[] {
  const free = (lengthMs: number): number => {
    for (let attempt = 0; attempt < 1_000; attempt++) {
      const atMs = startMs + Math.round(drawBetween(random, 0.5, course.days - 1) * DAY_MS);
      if (isClear(placed, atMs, atMs + lengthMs)) return atMs;
    }
    throw new RangeError("no room left for harmless happenings");
  };
  return [
    ...times(course.longOpenings, (): Happening => {
      const lengthMs = Math.round(drawBetween(random, 2, 4) * MINUTE_MS);
      const atMs = free(lengthMs);
      return {
        kind: "door",
        startMs: atMs,
        endMs: atMs + lengthMs,
        share: drawBetween(random, 0.4, 1),
      };
    }),
    ...times(course.restocks, () => drawRestock(random, free)).flat(),
    ...times(course.powerBlips, (): Happening => {
      const atMs = free(10 * MINUTE_MS);
      return { kind: "power-cut", startMs: atMs, endMs: atMs + 10 * MINUTE_MS };
    }),
    ...times(course.roomHeats, (): Happening => {
      const lengthMs = drawBetween(random, 8, 48) * HOUR_MS;
      const atMs = free(lengthMs);
      const riseK = drawBetween(random, 3, 6);
      return { kind: "room-heat", startMs: atMs, endMs: atMs + lengthMs, riseK };
    }),
  ];
}

/** Warm food goes in: the door is open for half a minute to two, then the food gives heat. */
function drawRestock(random: Seeded, free: (lengthMs: number) => number): Happening[] {
  const lengthMs = Math.round(drawBetween(random, 0.5, 2) * MINUTE_MS);
  const atMs = free(lengthMs);
  const foodC = drawBetween(random, 12, 22);
  const share = drawBetween(random, 0.03, 0.15);
  return [
    { kind: "door", startMs: atMs, endMs: atMs + lengthMs, share: 0.9 },
    { kind: "restock", startMs: atMs + lengthMs, endMs: atMs + lengthMs, share, foodC },
  ];
}

function isClear(placed: readonly Placed[], fromMs: number, toMs: number): boolean {
  return placed.every((p) => toMs < p.startMs - 6 * HOUR_MS || fromMs > p.endMs + 24 * HOUR_MS);
}

function times<T>(count: number, make: () => T): T[] {
  return Array.from({ length: count }, make);
}

function shuffle<T>(random: Seeded, list: readonly T[]): T[] {
  return list
    .map((one) => ({ one, key: draw(random) }))
    .sort((a, b) => a.key - b.key)
    .map(({ one }) => one);
}
