import { expect, test } from "vitest";
import { heldFor, hold } from "../../rules/hold.js";

test("a hold counts from the first instant and any break starts it afresh", () => {
  let since = hold(null, true, 100);
  since = hold(since, true, 200);
  expect(since).toBe(100);
  since = hold(since, false, 300);
  expect(since).toBeNull();
  expect(hold(since, true, 400)).toBe(400);
});

test("a hold is long enough at its limit and not a millisecond sooner", () => {
  expect(heldFor(100, 159, 60)).toBe(false);
  expect(heldFor(100, 160, 60)).toBe(true);
  expect(heldFor(null, 1e12, 0)).toBe(false);
});

test("a hold that began at the epoch is a hold", () => {
  expect(hold(0, true, 50)).toBe(0);
  expect(heldFor(0, 60, 60)).toBe(true);
});
