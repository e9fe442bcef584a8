import { describe, expect, test } from "vitest";
import {
  beginHearing,
  type Hearing,
  hear,
  muteAtMs,
  passDeaf,
  usualIntervalMs,
} from "../../rules/mute.js";
import { draw, seeded } from "../../sensors/simulated/seeded.js";
import type { Probe } from "../../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS, SECOND_MS } from "../../shared/time.js";

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

describe("a probe whose radio falters", () => {
  const lapses = (count: number, apartMs: number) =>
    Array.from({ length: count }, () => [
      ...repeat(MINUTE_MS, apartMs / MINUTE_MS),
      12 * MINUTE_MS,
    ]);
  const waitsMs = (hearing: Hearing) => muteAtMs(hearing, PROBE) - hearing.lastAtMs;
  const settled = repeat(MINUTE_MS, 30);

  test("is told the first time, and waited for from the second within two weeks on", () => {
    const usualMs = waitsMs(hearEach(repeat(MINUTE_MS, 100)));
    expect(usualMs).toBeLessThan(12 * MINUTE_MS);
    const once = hearEach([...lapses(1, 2 * DAY_MS).flat(), ...settled]);
    expect(waitsMs(once)).toBe(usualMs);
    const twice = hearEach([...lapses(2, 2 * DAY_MS).flat(), ...settled]);
    expect(waitsMs(twice)).toBe(18 * MINUTE_MS);
  });

  test("is waited for no longer once it has spoken for six weeks without a lapse", () => {
    const gaps = [...lapses(2, DAY_MS).flat(), ...repeat(MINUTE_MS, (42 * DAY_MS) / MINUTE_MS + 1)];
    expect(waitsMs(hearEach(gaps))).toBe(7 * MINUTE_MS);
  });

  test("learns no patience of lapses that lie far apart, nor of silences of hours", () => {
    expect(waitsMs(hearEach([...lapses(3, 15 * DAY_MS).flat(), ...settled]))).toBe(7 * MINUTE_MS);
    const hours = [...repeat(MINUTE_MS, 100), 2 * HOUR_MS, ...repeat(MINUTE_MS, 100), 2 * HOUR_MS];
    expect(waitsMs(hearEach([...hours, ...settled]))).toBe(7 * MINUTE_MS);
  });

  test("learns none of a stretch in which nobody listened", () => {
    let hearing = hearEach(repeat(MINUTE_MS, 100));
    for (let i = 0; i < 3; i++) {
      const fromMs = hearing.lastAtMs;
      hearing = passDeaf(hearing, { fromMs, toMs: fromMs + 20 * MINUTE_MS });
      hearing = hear(hearing, fromMs + 20 * MINUTE_MS);
      for (let k = 0; k < 100; k++) hearing = hear(hearing, hearing.lastAtMs + MINUTE_MS);
    }
    expect(waitsMs(hearing)).toBe(7 * MINUTE_MS);
  });
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
