import { expect, test } from "vitest";
import { type Known, learnRise, NOTHING_KNOWN } from "../../rules/acquaintance.js";
import { likenessOf } from "../../rules/likeness.js";
import { followRise, noticeRise, type Rise } from "../../rules/rise.js";
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

/** Eight defrosts by a timer of six hours, and as many openings between them at odd times. */
const timed = Array.from({ length: 8 }, (_, i) => i).reduce((all: Known, i) => {
  const defrostMs = START_MS + i * 6 * HOUR_MS;
  const openMs = defrostMs + HOUR_MS + ((i * 47) % 200) * MINUTE_MS;
  return learnRise(learnRise(all, longer(defrostMs)), riseOf(openMs, 1.6, 0.7, 3));
}, NOTHING_KNOWN);

test("a rise off a fridge's beat is compared with those off it, one on it with those on it", () => {
  const like = (onsetMs: number) => likenessOf(timed, riseOf(onsetMs, 0.8, 0.05, 4)).kin;
  const due = like(START_MS + 48 * HOUR_MS);
  expect(due.seen).toBe(8);
  expect(due.nearBoth).toBeCloseTo(8, 1);
  const odd = like(START_MS + 49.5 * HOUR_MS);
  expect(odd.seen).toBe(8);
  expect(odd.nearBoth).toBe(0);
  expect(odd.climbing).toBe(0);
});

test("how long rises of one kind lie apart tells whether one of them is due", () => {
  const wait = (onsetMs: number) => likenessOf(known, riseOf(onsetMs, 0.8, 0.05, 4));
  const lastMs = START_MS + 7 * 6 * HOUR_MS;
  expect(wait(lastMs + 6 * HOUR_MS).lnWait).toBeCloseTo(0, 6);
  expect(wait(lastMs + 3 * HOUR_MS).lnWait).toBeCloseTo(-Math.LN2, 6);
  expect(wait(lastMs + 6 * HOUR_MS).lnWaitSpread).toBeCloseTo(0, 6);
});

/** A rise that is followed for as many minutes more at the same pace. */
function goingOn(rise: Rise, cPerMin: number, hpaPerC: number, minutes: number): Rise {
  const from = rise.before[rise.before.length - 1]!;
  return Array.from({ length: minutes }, (_, i) => ({
    atMs: from.atMs + (i + 1) * MINUTE_MS,
    airC: from.airC + cPerMin * (i + 1),
    hpa: from.hpa! + hpaPerC * cPerMin * (i + 1),
  })).reduce(followRise, rise);
}

test("vapour beyond all that defrosts ever had is measured against the most of them", () => {
  const at = (onsetMs: number, hpaPerC: number) =>
    goingOn(riseOf(onsetMs, 0.8, hpaPerC, 4), 0.8, hpaPerC, 4);
  // Eleven dry ones and a moist one: so small a part of them is left out.
  const defrosts = [...Array(11).fill(0.05), 0.6].reduce(
    (all: Known, hpaPerC, i) => learnRise(all, at(START_MS + i * 6 * HOUR_MS, hpaPerC)),
    NOTHING_KNOWN,
  );
  const like = (hpaPerC: number) => likenessOf(defrosts, at(START_MS + 72 * HOUR_MS, hpaPerC));
  expect(like(0.05).mixBeyondLong).toBeCloseTo(0, 1);
  expect(like(0.45).mixBeyondLong).toBeCloseTo(0.4, 1);
});

test("vapour short of the driest openings is measured against those", () => {
  const openings = Array.from({ length: 8 }, (_, i) => i).reduce(
    (all: Known, i) => learnRise(all, riseOf(START_MS + i * 6 * HOUR_MS, 1.6, 0.7, 3)),
    NOTHING_KNOWN,
  );
  const like = likenessOf(openings, riseOf(nextMs, 1.6, 0.1, 3));
  expect(like.mixBeyondDry).toBeCloseTo(-0.6, 6);
});

test("vapour gained is measured against the middle of what rises gained", () => {
  // Each of them gained 0.05 hPa/K over 3.2 K; ten times that is ln(1.9 / 0.46) with what is spared.
  const like = (hpaPerC: number) => likenessOf(known, riseOf(nextMs, 0.8, hpaPerC, 4));
  expect(like(0.05).lnGain).toBeCloseTo(0, 6);
  expect(like(0.5).lnGain).toBeCloseTo(Math.log(1.9 / 0.46), 2);
});

test("when the last of them began is told, and none before the first", () => {
  expect(likenessOf(known, riseOf(nextMs, 0.8, 0.05, 4)).lastOnsetMs).toBe(START_MS + 42 * HOUR_MS);
  expect(likenessOf(NOTHING_KNOWN, riseOf(nextMs, 0.8, 0.05, 4)).lastOnsetMs).toBeNull();
});
