import { expect, test } from "vitest";
import { allTurn, startServiceNotice } from "../../../daemon/keep/service-notice.js";

const loop = (turnedAtMs: number, standsMostMs: number) => ({
  lastTurnMs: () => turnedAtMs,
  standsMostMs,
});

test("the watchdog is fed only while every loop turns in its time", () => {
  const intake = loop(10_000, 60_000);
  const outbox = loop(0, 240_000);
  expect(allTurn([intake, outbox], 69_999)).toBe(true);
  expect(allTurn([intake, outbox], 70_000)).toBe(false);
  expect(allTurn([outbox], 239_999)).toBe(true);
  expect(allTurn([outbox], 240_000)).toBe(false);
});

test("without systemd nothing is told, and nothing keeps the process alive", () => {
  expect(() => startServiceNotice([], () => 0, {}).close()).not.toThrow();
});
