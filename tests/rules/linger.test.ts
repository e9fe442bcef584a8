import { expect, test } from "vitest";
import { type Known, learnRise, NOTHING_KNOWN } from "../../rules/acquaintance.js";
import { lingerOf } from "../../rules/linger.js";
import { followRise, noticeRise, type Rise } from "../../rules/rise.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2025, 10, 1);

/** A reading each minute: up by 4 K and 4 hPa in two, then towards what stands, halved each minute. */
function opened(onsetMs: number, standsC: number, standsHpa: number, minutes: number): Rise {
  const samples = Array.from({ length: minutes + 1 }, (_, i) => {
    const share = i <= 2 ? i / 2 : 2 ** (2 - i);
    const stands = i <= 2 ? 0 : 1 - share;
    return {
      atMs: onsetMs + i * MINUTE_MS,
      airC: 2 + 4 * share + standsC * stands,
      hpa: 5 + 4 * share + standsHpa * stands,
    };
  });
  const noticed = noticeRise(samples.slice(0, 3), null, onsetMs) ?? expect.fail("no rise");
  return samples.slice(3).reduce(followRise, noticed);
}

/** Eight openings that were shut again, at no regular times, with 0.8 K left after minutes. */
const known = Array.from({ length: 8 }, (_, i) => i).reduce(
  (all: Known, i) =>
    learnRise(all, opened(START_MS + i * 5 * HOUR_MS + i ** 2 * 17 * MINUTE_MS, 0.8, 0, 8)),
  NOTHING_KNOWN,
);
const nextMs = START_MS + 63 * HOUR_MS;

test("one more opening that is shut leaves no more than those before it", () => {
  const rise = opened(nextMs, 0.8, 0, 8);
  expect(rise.turned).toBe(true);
  const linger = lingerOf(known, rise);
  expect(linger.beyond).toBeCloseTo(0, 1);
  expect(linger.beyondHpa).toBeCloseTo(0, 1);
  expect(linger.asWarm).toBe(8);
});

test("a door that falls to and stays ajar leaves far more warmth and vapour than any", () => {
  const linger = lingerOf(known, opened(nextMs, 2.4, 1.5, 8));
  expect(linger.beyond).toBeCloseTo(Math.log((4 + 63 * 2.4) / (4 + 63 * 0.8)), 2);
  expect(linger.beyondKin).toBeCloseTo(linger.beyond, 5);
  expect(linger.beyondHpa).toBeCloseTo(1.5, 1);
  expect(linger.asWarm).toBe(0);
});

test("what was let go by then has nothing left", () => {
  // The openings were followed for eight minutes; the door is followed for ten. Less than 0.4 K
  // counts as that: ln 6.
  const linger = lingerOf(known, opened(nextMs, 2.4, 1.5, 10));
  expect(linger.beyond).toBeCloseTo(Math.log(6), 1);
  expect(linger.beyondHpa).toBeCloseTo(1.5, 1);
});

test("a fridge that few rises are known of says nothing", () => {
  const few: Known = { ...known, rises: known.rises.slice(0, 3) };
  const linger = lingerOf(few, opened(nextMs, 2.4, 1.5, 8));
  expect(linger.beyond).toBe(0);
  expect(linger.beyondHpa).toBe(0);
});

test("air that stands is level from when it came there", () => {
  const standing = opened(nextMs, 2.4, 1.5, 12);
  // Halved each minute it stays within 0.3 K from the fifth to the seventh on.
  const sinceMin = (standing.levelSinceMs - nextMs) / MINUTE_MS;
  expect(sinceMin).toBeGreaterThanOrEqual(4);
  expect(sinceMin).toBeLessThanOrEqual(7);
});
