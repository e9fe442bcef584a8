import { expect, test } from "vitest";
import { type Known, learnRise, NOTHING_KNOWN } from "../../rules/acquaintance.js";
import { likenessOf } from "../../rules/likeness.js";
import { noticeRise, type Rise } from "../../rules/rise.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2025, 10, 1);

/** A rise read each minute: so fast, with so much vapour for each kelvin, climbing for so long. */
function riseOf(onsetMs: number, cPerMin: number, hpaPerC: number, minutes: number): Rise {
  const samples = Array.from({ length: minutes + 1 }, (_, i) => ({
    atMs: onsetMs + i * MINUTE_MS,
    airC: 2 + cPerMin * i,
    hpa: 5 + hpaPerC * cPerMin * i,
  }));
  return noticeRise(samples, null, onsetMs) ?? expect.fail("no rise");
}

/** Eight dry defrosts of a quarter of an hour, six hours apart. */
const known = Array.from({ length: 8 }, (_, i) => i).reduce(
  (all: Known, i) => learnRise(all, longer(START_MS + i * 6 * HOUR_MS)),
  NOTHING_KNOWN,
);
const nextMs = START_MS + 50 * HOUR_MS;

/** Noticed from its first four minutes, as marks reach back no further than what is remembered. */
function longer(onsetMs: number): Rise {
  return riseOf(onsetMs, 0.8, 0.05, 4);
}

test("one more defrost is like all that came before it", () => {
  const like = likenessOf(known, riseOf(nextMs, 0.8, 0.05, 4));
  expect(like.alike).toBe(8);
  expect(like.near).toBeCloseTo(8, 1);
  expect(like.nearBoth).toBeCloseTo(8, 1);
  expect(like.far).toBeLessThan(0.1);
  expect(like.beyondClimbing).toBeCloseTo(0, 1);
});

test("a rise as fast that brings room air is like them by warmth and not by vapour", () => {
  const like = likenessOf(known, riseOf(nextMs, 0.8, 0.7, 4));
  expect(like.near).toBeCloseTo(8, 1);
  expect(like.nearBoth).toBeLessThan(0.1);
  expect(like.far).toBeGreaterThan(2);
});

test("a rise twice as fast is like none of them, and beyond them by ln 2", () => {
  const like = likenessOf(known, riseOf(nextMs, 1.6, 0.05, 4));
  expect(like.alike).toBe(0);
  expect(like.near).toBeLessThan(0.5);
  expect(like.beyondClimbing).toBeCloseTo(Math.LN2, 1);
});

test("a rise is not compared with itself or with later ones", () => {
  expect(likenessOf(known, longer(START_MS)).climbing).toBe(0);
  expect(likenessOf(known, longer(START_MS + 2 * 6 * HOUR_MS)).climbing).toBe(2);
});
