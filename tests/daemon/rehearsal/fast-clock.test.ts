import { expect, test } from "vitest";
import {
  fastClock,
  openHasteningClock,
  siteClock,
  writePace,
} from "../../../daemon/rehearsal/fast-clock.js";
import { testFolder } from "../config/written-config.js";

const FROM_MS = Date.UTC(2026, 0, 11, 8);

test("hastening changes the pace of both clocks and makes neither jump", () => {
  const clock = openHasteningClock({ fromMs: FROM_MS, atMs: Date.now(), speed: 1 });
  const [wallMs, monotonicMs] = [clock.nowMs(), clock.monotonicMs()];
  const pace = clock.hasten(3600);
  // An hour of theirs is a second of ours: a jump would be of hours, the call itself is not.
  expect(clock.nowMs() - wallMs).toBeLessThan(3_600_000);
  expect(clock.monotonicMs() - monotonicMs).toBeLessThan(3_600_000);
  expect(clock.nowMs()).toBeGreaterThanOrEqual(wallMs);
  expect(clock.monotonicMs()).toBeGreaterThanOrEqual(monotonicMs);
  const other = fastClock(pace);
  expect(Math.abs(other.nowMs() - clock.nowMs())).toBeLessThan(3_600_000);
});

test("a folder without a rehearsal has the machine's clock, one that is over stands still", () => {
  const folder = testFolder();
  expect(Math.abs(siteClock(folder).nowMs() - Date.now())).toBeLessThan(60_000);
  writePace(folder, { fromMs: FROM_MS, atMs: 0, speed: 60, stoodAtMs: FROM_MS + 5 });
  expect(siteClock(folder).nowMs()).toBe(FROM_MS + 5);
});
