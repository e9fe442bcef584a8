import { execFileSync } from "node:child_process";
import { expect, test } from "vitest";

const BUILT = new URL("../../../dist/daemon/keep/small-heap.js", import.meta.url).href;

/**
 * What the young generation takes in a process of its own, MB: after much was kept alive between
 * commits of few readings, and between commits of many.
 */
function youngMB(): { trickle: number; flood: number } {
  const script = `
    const { openYoungRoom, preferSmallHeap } = await import(${JSON.stringify(BUILT)});
    const { getHeapSpaceStatistics } = await import("node:v8");
    preferSmallHeap();
    const young = () =>
      getHeapSpaceStatistics().find((space) => space.space_name === "new_space").space_size / 2 ** 20;
    const committed = openYoungRoom();
    const pour = (count) => {
      for (let group = 0; group < 40; group++) {
        const kept = [];
        for (let i = 0; i < 20_000; i++) kept.push({ takenAtMs: Date.now() + 0.5, i });
        committed(count);
      }
      return young();
    };
    const trickle = pour(32);
    const flood = pour(1_024);
    console.log(JSON.stringify({ trickle, flood }));`;
  return JSON.parse(
    execFileSync(process.execPath, ["--input-type=module", "--eval", script], { encoding: "utf8" }),
  );
}

test("the young generation stays small until a flood comes, and does not grow without bound then", () => {
  const { trickle, flood } = youngMB();
  // What V8 begins with: two halves of 1 MB.
  expect(trickle).toBeLessThanOrEqual(2);
  expect(flood).toBeGreaterThan(trickle);
  // V8 itself would go up to 32, both halves counted (node --v8-options, max-semi-space-size).
  expect(flood).toBeLessThanOrEqual(8);
});
