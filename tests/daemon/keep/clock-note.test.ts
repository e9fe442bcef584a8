import { expect, test } from "vitest";
import { clockSentence, noteClockSet } from "../../../daemon/keep/clock-note.js";
import { openMemoryLog } from "../mqtt/desk.js";
import { openedStore, temporaryFolder, utc } from "../store/temporary-store.js";

const NOON_MS = utc("2026-12-01T12:00:00Z");

test("a keeper who asks is told for a week that the clock was set, and what that means", () => {
  const store = openedStore(temporaryFolder());
  const ports = {
    store,
    log: openMemoryLog(),
    clock: { nowMs: () => NOON_MS, monotonicMs: () => 0 },
  };
  expect(clockSentence(store, NOON_MS)).toBeNull();
  noteClockSet(ports, -5 * 3_600_000);
  expect(clockSentence(store, NOON_MS + 3_600_000)).toBe(
    "The board's clock was set back by 5 hours, 1 hour ago. " +
      "What was measured before that is dated too late by as much.",
  );
  noteClockSet(ports, 90 * 60_000);
  expect(clockSentence(store, NOON_MS)).toMatch(/set ahead by .*too early by as much/);
  expect(clockSentence(store, NOON_MS + 8 * 86_400_000)).toBeNull();
});
