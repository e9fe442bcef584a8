import { expect, test } from "vitest";
import { HeardTally, OTHER_TOPICS } from "../../../daemon/intake/heard-tally.js";

const BYTES = Buffer.from("2.4");
const UNCLAIMED = { probeId: null, outcome: "unclaimed", detail: "no probe" } as const;
const READING = { probeId: "air", outcome: "reading", detail: null } as const;

test("each outcome on each topic is counted, and told as news once", () => {
  const tally = new HeardTally();
  expect(tally.note("a", BYTES, 1, READING)).toBe(true);
  expect(tally.note("a", BYTES, 2, READING)).toBe(false);
  expect(tally.note("a", BYTES, 3, UNCLAIMED)).toBe(true);
  expect(tally.hasNews).toBe(true);
  expect(tally.read()).toEqual([
    { ...READING, topic: "a", count: 2, lastAtMs: 2, sample: "2.4" },
    { ...UNCLAIMED, topic: "a", count: 1, lastAtMs: 3, sample: "2.4" },
  ]);
  tally.stored();
  expect([tally.hasNews, tally.read()]).toEqual([false, []]);
  expect(tally.note("a", BYTES, 4, READING)).toBe(false);
  expect(tally.hasNews).toBe(false);
  expect(tally.read()).toMatchObject([{ count: 1, lastAtMs: 4 }]);
});

test("a sender that makes up topics fills no memory and is told once", () => {
  const tally = new HeardTally();
  let told = 0;
  for (let i = 0; i < 5_000; i++) if (tally.note(`made-up/${i}`, BYTES, i, UNCLAIMED)) told += 1;
  tally.stored();
  for (let i = 0; i < 5_000; i++) if (tally.note(`made-up/${i}`, BYTES, i, UNCLAIMED)) told += 1;
  const heard = tally.read();
  expect(heard.length).toBe(501);
  expect(heard.find(({ topic }) => topic === OTHER_TOPICS)?.count).toBe(4_500);
  expect(told).toBe(501);
});
