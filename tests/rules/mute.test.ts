import { expect, test } from "vitest";
import { beginHearing, type Hearing, hear, muteAtMs, usualIntervalMs } from "../../rules/mute.js";
import { draw, seeded } from "../../sensors/simulated/seeded.js";
import type { Probe } from "../../shared/site.js";
import { HOUR_MS, MINUTE_MS, SECOND_MS } from "../../shared/time.js";

const PROBE: Probe = { id: "shed-air", chamberId: "shed", place: "air", intervalMs: MINUTE_MS };
const START_MS = Date.UTC(2025, 10, 1);

function hearEach(gapsMs: readonly number[]): Hearing {
  let hearing = hear(beginHearing(PROBE.id), START_MS);
  for (const gapMs of gapsMs) hearing = hear(hearing, hearing.lastAtMs + gapMs);
  return hearing;
}

const repeat = (gapMs: number, times: number) => Array.from({ length: times }, () => gapMs);

test("a probe that was never heard is not mute", () => {
  expect(muteAtMs(beginHearing(PROBE.id), PROBE)).toBe(Number.POSITIVE_INFINITY);
});

test("a silence counts within three intervals and five minutes", () => {
  for (const intervalMs of [10 * SECOND_MS, MINUTE_MS, 5 * MINUTE_MS, 30 * MINUTE_MS]) {
    const hearing = hearEach(repeat(intervalMs, 200));
    const silentMs = muteAtMs(hearing, { ...PROBE, intervalMs }) - hearing.lastAtMs;
    expect(silentMs, `${intervalMs} ms`).toBeLessThanOrEqual(3 * intervalMs + 5 * MINUTE_MS);
    // Three missed readings alone are not a silence.
    expect(silentMs, `${intervalMs} ms`).toBeGreaterThan(3 * intervalMs);
  }
});

test("a probe slower than it was meant to be is given its own interval", () => {
  const hearing = hearEach(repeat(10 * MINUTE_MS, 200));
  expect(usualIntervalMs(hearing, PROBE)).toBe(10 * MINUTE_MS);
  expect(muteAtMs(hearing, PROBE) - hearing.lastAtMs).toBeGreaterThan(30 * MINUTE_MS);
});

test("a probe quicker than it was meant to be is given what it was meant to", () => {
  expect(usualIntervalMs(hearEach(repeat(10 * SECOND_MS, 200)), PROBE)).toBe(MINUTE_MS);
});

test("lost packets and long silences teach no patience", () => {
  const random = seeded(11, "lost");
  const gaps = Array.from({ length: 2_000 }, () =>
    draw(random) < 0.02 ? 2 * MINUTE_MS : MINUTE_MS,
  );
  gaps.push(48 * HOUR_MS, ...repeat(MINUTE_MS, 5), 48 * HOUR_MS);
  // Two packets in a hundred lost and two dark days: within a fifth of a minute.
  expect(usualIntervalMs(hearEach(gaps), PROBE)).toBeLessThan(1.2 * MINUTE_MS);
});

test("the first gap of all may be a long one and is forgotten within a day", () => {
  expect(usualIntervalMs(hearEach([10 * HOUR_MS]), PROBE)).toBeLessThanOrEqual(2 * HOUR_MS);
  expect(usualIntervalMs(hearEach([10 * HOUR_MS, ...repeat(MINUTE_MS, 300)]), PROBE)).toBe(
    MINUTE_MS,
  );
});

test("a probe that speaks when something changes is given the long pauses it is used to", () => {
  const random = seeded(12, "changes");
  // Minutes while the door is used, up to an hour at night: common practice of battery sensors.
  const pauseMs = () =>
    (draw(random) < 0.7 ? 1 + 4 * draw(random) : 10 + 48 * draw(random)) * MINUTE_MS;
  let hearing = hearEach(Array.from({ length: 200 }, pauseMs));
  for (let i = 0; i < 3_000; i++) {
    const gapMs = pauseMs();
    expect(hearing.lastAtMs + gapMs).toBeLessThan(muteAtMs(hearing, PROBE));
    hearing = hear(hearing, hearing.lastAtMs + gapMs);
  }
  // And is told of all the same, within three hours.
  expect(muteAtMs(hearing, PROBE) - hearing.lastAtMs).toBeLessThan(3 * HOUR_MS);
});

test("once told, a silence is not told again", () => {
  const silent = hearEach(repeat(MINUTE_MS, 50));
  const mute = {
    excursionId: "x",
    urgency: "visit",
    sinceMs: silent.lastAtMs,
    openedAtMs: silent.lastAtMs + 7 * MINUTE_MS,
    visitAtMs: null,
  } as const;
  expect(muteAtMs({ ...silent, mute }, PROBE)).toBe(Number.POSITIVE_INFINITY);
});

test("heard intervals are whole milliseconds, as are the instants at which silences count", () => {
  const random = seeded(12, "gaps");
  const hearing = hearEach(Array.from({ length: 500 }, () => Math.floor(draw(random) * 400_000)));
  expect(Number.isInteger(muteAtMs(hearing, PROBE))).toBe(true);
});
