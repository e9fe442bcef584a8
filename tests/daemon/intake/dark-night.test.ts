import { expect, onTestFinished, test } from "vitest";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { takeIn } from "../checks/kept-course.js";
import { madeCheck } from "../checks/made-checks.js";
import { openRig, SITE } from "./rig.js";

const EVENING_MS = Date.UTC(2026, 0, 15, 19);

function open() {
  const rig = openRig(EVENING_MS);
  onTestFinished(() => rig.close());
  const live = (minutes: number, airC: (minute: number) => number): void => {
    for (let minute = 0; minute < minutes; minute++) {
      rig.clock.move(MINUTE_MS / 2);
      rig.publish({ t: airC(minute) });
      rig.clock.move(MINUTE_MS / 2);
      rig.intake.tick();
    }
    rig.intake.flush();
  };
  /** Minutes in which nothing is heard. */
  const tickFor = (minutes: number): void => {
    for (let minute = 0; minute < minutes; minute++) {
      rig.clock.move(MINUTE_MS);
      rig.intake.tick();
    }
    rig.intake.flush();
  };
  const letters = () =>
    rig.store.letters
      .between(0, Number.MAX_SAFE_INTEGER)
      .map(({ letter }) => letter.text.replace(/\s+/g, " "));
  return { rig, live, tickFor, letters };
}

const asUsual = (minute: number) => 2.4 + Math.sin(minute / 7);

test("after a night without power the morning's letter says what nobody saw, and what it may have held", () => {
  const { rig, live, letters } = open();
  live(4 * 60, asUsual);
  expect(letters()).toEqual([]);
  rig.clock.move(8 * HOUR_MS);
  rig.restart();
  // The fridge had no power either, and has only begun to cool again.
  live(40, (minute) => 14 - minute / 20);
  const seen = letters().filter((text) => text.includes("What was not seen"));
  expect(seen.length).toBeGreaterThan(0);
  for (const text of seen)
    expect(text).toMatch(
      /Nobody saw the cocoons from 22:59 on Thursday .* to 07:00 on Friday .*, 8 hours 1 minute/,
    );
  // It asks for a look, since the bound is warmer than cocoons should ever be.
  expect(letters().some((text) => text.startsWith("Look at the cocoons today: shed"))).toBe(true);
});

/** How often letters speak of a silent probe. */
const ofSilence = (texts: readonly string[]) => texts.filter((text) => text.includes("silent"));

test("a board that was off alone for 40 minutes writes no letter", () => {
  const { rig, live, tickFor, letters } = open();
  live(4 * 60, asUsual);
  rig.clock.move(40 * MINUTE_MS);
  rig.restart();
  live(60, asUsual);
  expect(letters()).toEqual([]);
  // And a probe that fell silent with it is told of, within its time from the start.
  rig.clock.move(40 * MINUTE_MS);
  rig.restart();
  tickFor(6);
  expect(letters()).toEqual([]);
  tickFor(3);
  expect(ofSilence(letters()).length).toBe(1);
});

test("a broker that was away calls nobody silent who could not be heard, unless it stays away", () => {
  const { rig, live, tickFor, letters } = open();
  live(60, asUsual);
  rig.intake.cutOff();
  tickFor(6);
  rig.intake.connected();
  // What was said meanwhile is lost, and the sensor's next reading is due in a while.
  tickFor(5);
  live(30, asUsual);
  expect(letters()).toEqual([]);
  rig.intake.cutOff();
  tickFor(20);
  expect(ofSilence(letters()).length).toBe(1);
});

test("after a night without the board a letter says what nobody saw, though the fridge is as it was", () => {
  const { rig, live, letters } = open();
  live(4 * 60, asUsual);
  rig.clock.move(8 * HOUR_MS);
  rig.restart();
  live(60, asUsual);
  expect(letters()).toHaveLength(1);
  expect(letters()[0]).toMatch(/^Look at the cocoons today: shed/);
  expect(letters()[0]).toMatch(
    /What was not seen Nobody saw the cocoons from 22:59 on Thursday .* to 07:00 on Friday/,
  );
});

test("a night without the board stays one when its readings are judged anew", async () => {
  const { rig, live } = open();
  live(4 * 60, asUsual);
  rig.clock.move(8 * HOUR_MS);
  rig.restart();
  live(60, asUsual);
  const nowMs = rig.clock.nowMs();
  const darkIds = () =>
    rig.store.excursions
      .between(0, nowMs)
      .map(({ id }) => id)
      .filter((id) => id.includes("dark"));
  const before = darkIds();
  expect(before).toHaveLength(1);
  rig.store.checks.add(madeCheck(0.1, { madeAtMs: nowMs, holdsFromMs: EVENING_MS }));
  expect(await takeIn(rig.store, SITE, rig.intake.settledSeat(), nowMs)).toBe(true);
  expect(darkIds()).toEqual(before);
});
