import { expect, test } from "vitest";
import { openTries } from "../../../../daemon/web/door/tries.js";
import { MINUTE_MS } from "../../../../shared/time.js";

/** Tries of an address until one is refused, at most `most`. */
function triesOf(tries: ReturnType<typeof openTries>, address: string, most = 50): number {
  let count = 0;
  while (count < most && tries.take(address) === 0) count += 1;
  return count;
}

test("an address has five tries, and one more each two minutes", () => {
  let nowMs = 0;
  const tries = openTries(() => nowMs);
  expect(triesOf(tries, "10.0.0.1")).toBe(5);
  expect(tries.take("10.0.0.1")).toBe(2 * MINUTE_MS);
  nowMs += 2 * MINUTE_MS - 1;
  expect(tries.take("10.0.0.1")).toBe(1);
  nowMs += 1;
  expect(triesOf(tries, "10.0.0.1")).toBe(1);
  nowMs += 60 * MINUTE_MS;
  expect(triesOf(tries, "10.0.0.1")).toBe(5);
});

test("all addresses together have thirty", () => {
  const tries = openTries(() => 0);
  const counts = Array.from({ length: 10 }, (_, i) => triesOf(tries, `10.0.0.${i}`));
  expect(counts.reduce((sum, count) => sum + count, 0)).toBe(30);
});

test("the right one gives an address its tries back", () => {
  const tries = openTries(() => 0);
  for (let i = 0; i < 200; i++) {
    expect(tries.take("10.0.0.1"), `the ${i}th`).toBe(0);
    tries.forgive("10.0.0.1");
  }
});

test("an IPv6 network of 2^64 addresses is one, however it is written", () => {
  const tries = openTries(() => 0);
  const sorts = ["2001:db8::1", "2001:db8:0:0:9::2", "2001:db8:0:0:a:b:c:d", "2001:db8::a:0:0:1"];
  expect(sorts.map((address) => triesOf(tries, address))).toEqual([5, 0, 0, 0]);
  expect(triesOf(tries, "2001:db8:0:1::1")).toBe(5);
  expect(triesOf(tries, "::ffff:10.0.0.1")).toBe(5);
  expect(triesOf(tries, "::ffff:10.0.0.2")).toBe(5);
});

test("however many addresses try, few are remembered", () => {
  let nowMs = 0;
  const tries = openTries(() => nowMs);
  expect(triesOf(tries, "10.9.9.9")).toBe(5);
  // Each comes late enough for the bound on all of them.
  for (let i = 0; i < 1_000; i++) {
    nowMs += 20_000;
    tries.take(`10.1.${i >> 8}.${i & 255}`);
  }
  expect(triesOf(tries, "10.9.9.9")).toBe(5);
});
