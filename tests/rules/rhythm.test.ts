import { expect, test } from "vitest";
import type { PastRise } from "../../rules/acquaintance.js";
import { rhythmOf } from "../../rules/rhythm.js";
import { draw, seeded } from "../../sensors/simulated/seeded.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2025, 10, 1);
const EVERY_MS = 8 * HOUR_MS;

const past = (onsetMs: number): PastRise => ({
  onsetMs,
  marks: [2, 3],
  hpaMarks: [1, 1.5],
  tail: [],
  hpaTail: [],
  riseC: 4,
  gainedHpa: 2,
});

/** Twenty defrosts of a timer, each read up to two minutes late, and five openings a day. */
function winterOf(seed: number): PastRise[] {
  const random = seeded(seed, "rises");
  const defrosts = Array.from(
    { length: 20 },
    (_, i) => START_MS + i * EVERY_MS + 2 * MINUTE_MS * draw(random),
  );
  const openings = Array.from({ length: 33 }, () => START_MS + draw(random) * 20 * EVERY_MS);
  return [...defrosts, ...openings].sort((a, b) => a - b).map(past);
}

const nextMs = START_MS + 20 * EVERY_MS;

test("a defrost timer's beat is found among openings, and its next time with it", () => {
  for (let seed = 1; seed <= 60; seed++) {
    const rises = winterOf(seed);
    const due = rhythmOf(rises, nextMs);
    expect(due.share, `seed ${seed}`).toBeGreaterThan(0.9);
    expect(due.offMin, `seed ${seed}`).toBeLessThan(4);
    const timed = rises.filter((r) => (r.onsetMs - START_MS) % EVERY_MS <= 2 * MINUTE_MS);
    // By chance an opening may begin within the two minutes of a defrost.
    const kept = timed.filter((r) => due.kept.has(r.onsetMs)).length;
    expect(kept, `seed ${seed}`).toBeGreaterThanOrEqual(19);
  }
});

test("a rise half way between two beats is off by minutes or hours, never near", () => {
  const early = rhythmOf(winterOf(1), nextMs - 40 * MINUTE_MS);
  expect(early.offMin).toBeGreaterThan(36);
  expect(early.offMin).toBeLessThan(44);
  expect(rhythmOf(winterOf(1), nextMs - EVERY_MS / 2).offMin).toBe(120);
});

test("two missed beats do not hide it, and the count goes on through them", () => {
  const rises = winterOf(2).filter((r) => {
    const beat = Math.floor((r.onsetMs - START_MS) / EVERY_MS);
    return beat !== 11 && beat !== 18;
  });
  const rhythm = rhythmOf(rises, nextMs);
  expect(rhythm.share).toBeGreaterThan(0.8);
  expect(rhythm.offMin).toBeLessThan(4);
});

test("openings by chance keep no beat that is believed to be sure", () => {
  for (let seed = 1; seed <= 60; seed++) {
    const random = seeded(seed, "rises");
    const openings = Array.from({ length: 50 }, () => START_MS + draw(random) * 20 * EVERY_MS);
    const { odds } = rhythmOf(openings.sort((a, b) => a - b).map(past), nextMs);
    expect(odds, `seed ${seed}`).toBeLessThan(16);
  }
});

test("few rises, and those that come later, say nothing", () => {
  const few = [0, 1, 2, 3, 4].map((i) => past(START_MS + i * EVERY_MS));
  expect(rhythmOf(few, START_MS + 5 * EVERY_MS).share).toBe(0);
  expect(rhythmOf(winterOf(3), START_MS).share).toBe(0);
});
