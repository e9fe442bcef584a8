import { afterEach, expect, test } from "vitest";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { openRig } from "./rig.js";

const NOON_MS = Date.UTC(2026, 0, 15, 12);

const rigs: Array<ReturnType<typeof openRig>> = [];
afterEach(() => {
  for (const rig of rigs.splice(0)) rig.close();
});

function open() {
  const set: number[] = [];
  const rig = openRig(NOON_MS, { onClockSet: (byMs) => void set.push(byMs) });
  rigs.push(rig);
  return { rig, set };
}
type Rig = ReturnType<typeof openRig>;

/** Live on, a reading a minute by the sensor without a clock of its own. */
function live(rig: Rig, minutes: number, t: number): void {
  for (let minute = 0; minute < minutes; minute++) {
    rig.clock.move(MINUTE_MS);
    rig.publish({ t: t + Math.sin(minute / 7) });
    rig.intake.tick();
  }
  rig.intake.flush();
}

const causes = ({ store }: Rig) => store.excursions.open().map(({ cause }) => cause);
const letters = ({ store }: Rig) => store.letters.between(0, Number.MAX_SAFE_INTEGER).length;

/** Minutes of warm air until the keeper is told. */
function minutesUntilTold(rig: Rig): number {
  for (let minute = 1; minute < 12 * 60; minute++) {
    live(rig, 1, 12);
    if (letters(rig) > 0) return minute;
  }
  return Number.POSITIVE_INFINITY;
}

test("a clock set back by hours leaves nobody blind until it has caught up", () => {
  const calm = open();
  live(calm.rig, 120, 2.4);
  const usual = minutesUntilTold(calm.rig);
  const { rig, set } = open();
  live(rig, 120, 2.4);
  rig.clock.set(rig.clock.nowMs() - 5 * HOUR_MS);
  // The ordinary time; the clock would have needed five hours.
  expect(Math.abs(minutesUntilTold(rig) - usual)).toBeLessThanOrEqual(2);
  expect(usual).toBeLessThan(4 * 60);
  expect(set).toHaveLength(1);
  expect(set[0]! / HOUR_MS).toBeCloseTo(-5, 4);
  expect(rig.log.lines.join("\n")).toContain("the clock was set");
});

test("a clock set ahead by hours makes no probe look silent", () => {
  const { rig, set } = open();
  live(rig, 120, 2.4);
  rig.clock.set(rig.clock.nowMs() + 3 * HOUR_MS);
  rig.intake.tick();
  live(rig, 30, 2.4);
  expect(letters(rig)).toBe(0);
  expect(set).toHaveLength(1);
  expect(set[0]! / HOUR_MS).toBeCloseTo(3, 4);
});

test("after the clock was set the store goes on taking readings and what the judge remembers", () => {
  const { rig, set } = open();
  live(rig, 30, 2.4);
  rig.clock.set(rig.clock.nowMs() - HOUR_MS);
  live(rig, 30, 2.4);
  // The steady clock has fractions of a millisecond; a column of the store takes none.
  expect(set.every(Number.isInteger)).toBe(true);
  expect(rig.store.judge.load()!.atMs).toBe(rig.clock.nowMs());
  expect(rig.log.lines.join("\n")).not.toContain("can't be written");
});

test("ahead of sensors that know the time themselves the judge stays where it is", () => {
  const { rig } = open();
  const trueMs = NOON_MS;
  for (let minute = 0; minute < 200; minute++) {
    if (minute === 60) rig.clock.set(rig.clock.nowMs() + 3 * HOUR_MS);
    rig.clock.move(MINUTE_MS / 2);
    rig.publish({ t: minute < 80 ? 2.4 : 14, at: trueMs + minute * MINUTE_MS });
    // Long enough for what looks like a backlog to have come in.
    rig.clock.move(MINUTE_MS / 2);
    rig.intake.tick();
  }
  rig.intake.flush();
  expect(causes(rig)).not.toEqual([]);
  expect(causes(rig).some((cause) => !cause.startsWith("probe-"))).toBe(true);
  // Nor does a sensor seem silent whose readings are of the true time.
  const ever = rig.store.excursions.between(0, Number.MAX_SAFE_INTEGER);
  expect(ever.map(({ cause }) => cause)).not.toContain("probe-mute");
});

test("a start by a clock that was set back meanwhile is not blind either", () => {
  const { rig } = open();
  live(rig, 120, 2.4);
  rig.clock.set(rig.clock.nowMs() - 5 * HOUR_MS);
  rig.restart();
  expect(minutesUntilTold(rig)).toBeLessThan(4 * 60);
});

test("a machine that slept for hours has seen nothing, and that is told", () => {
  const { rig, set } = open();
  let asleepMs = 0;
  Object.assign(rig.clock, { uptimeMs: () => rig.clock.monotonicMs() + asleepMs });
  live(rig, 120, 2.4);
  asleepMs = 3 * HOUR_MS;
  rig.clock.set(rig.clock.nowMs() + 3 * HOUR_MS);
  rig.intake.tick();
  rig.intake.flush();
  expect(set).toEqual([]);
  expect(causes(rig)).toEqual(["probe-mute"]);
});
