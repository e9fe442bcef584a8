import { expect, test } from "vitest";
import { afterFailure, retryDelayMs } from "../../../daemon/mail/retry-delay.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../../shared/time.js";

test("waits double from one minute to two hours and stay there", () => {
  const minutes = [1, 2, 3, 4, 5, 6, 7, 8, 9, 1000].map((n) => retryDelayMs(n) / MINUTE_MS);
  expect(minutes).toEqual([1, 2, 4, 8, 16, 32, 64, 120, 120, 120]);
});

const failed = { kind: "later", failures: 1, refusedBefore: false, ageMs: 0 } as const;

test("a letter is given up at five days, and not a moment before", () => {
  // RFC 5321 section 4.5.4.1: the give-up time generally needs to be at least 4 to 5 days.
  const old = { ...failed, failures: 60 };
  expect(afterFailure({ ...old, ageMs: 5 * DAY_MS - 1 }, 0).giveUp).toBe(false);
  expect(afterFailure({ ...old, ageMs: 5 * DAY_MS }, 0).giveUp).toBe(true);
});

test("a refusal is tried three times more over hours, then given up", () => {
  const refused = (failures: number) =>
    afterFailure({ kind: "refused", failures, refusedBefore: failures > 1, ageMs: 0 }, 0);
  expect(refused(1).nextTryAtMs).toBe(15 * MINUTE_MS);
  expect(refused(2).nextTryAtMs).toBe(HOUR_MS);
  expect(refused(3).nextTryAtMs).toBe(4 * HOUR_MS);
  expect(refused(4).giveUp).toBe(true);
});

test("a first refusal after many failures of another kind is not yet the end", () => {
  const late = { kind: "refused", failures: 9, refusedBefore: false, ageMs: HOUR_MS } as const;
  expect(afterFailure(late, 0)).toEqual({ giveUp: false, nextTryAtMs: 4 * HOUR_MS });
  expect(afterFailure({ ...late, failures: 10, refusedBefore: true }, 0).giveUp).toBe(true);
});
