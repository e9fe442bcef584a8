import { expect, test } from "vitest";
import { beyond, coarsened, courseWithin, runsOf } from "../../../daemon/drawing/course-runs.js";
import type { Piece } from "../../../daemon/drawing/material.js";

const piece = (fromMs: number, toMs: number, mean: number, reach = 0): Piece => ({
  fromMs,
  toMs,
  low: mean - reach,
  mean,
  high: mean + reach,
});

test("a line beyond an edge begins and ends where it crosses the edge", () => {
  // From 2 to 4 in 10 ms: 3 is crossed half way; from 4 to 1 in 30 ms: a third of the way.
  const parts = beyond(
    [
      [0, 2],
      [10, 4],
      [40, 1],
      [50, 1],
    ],
    3,
    "above",
  );
  expect(parts).toEqual([
    [
      [5, 3],
      [10, 4],
      [20, 3],
    ],
  ]);
});

test("what lies below an edge is found likewise, and open ends close on the edge", () => {
  const parts = beyond(
    [
      [0, 0],
      [10, 2],
      [20, 0],
    ],
    1,
    "below",
  );
  expect(parts).toEqual([
    [
      [0, 1],
      [0, 0],
      [5, 1],
    ],
    [
      [15, 1],
      [20, 0],
      [20, 1],
    ],
  ]);
});

test("a line that only touches the edge is not beyond it", () => {
  expect(
    beyond(
      [
        [0, 1],
        [10, 3],
        [20, 1],
      ],
      3,
      "above",
    ),
  ).toEqual([]);
});

test("pieces that do not meet are runs of their own", () => {
  const runs = runsOf([
    piece(0, 3_600_000, 1),
    piece(3_600_000, 7_200_000, 2),
    piece(9_000_000, 9_900_000, 3),
  ]);
  expect(runs.map((run) => run.length)).toEqual([2, 1]);
});

test("coarser pieces keep the farthest reach, weigh means by time, and span no gap", () => {
  const course = [piece(0, 1_000, 1, 0.5), piece(1_000, 4_000, 3, 1), piece(8_000, 9_000, 7)];
  expect(coarsened(course, 0, 10_000)).toEqual([
    // (1·1 + 3·3) / 4
    { fromMs: 0, toMs: 4_000, low: 0.5, mean: 2.5, high: 4 },
    { fromMs: 8_000, toMs: 9_000, low: 7, mean: 7, high: 7 },
  ]);
});

test("a course is cut where a stretch begins and ends", () => {
  const cut = courseWithin([piece(0, 10, 1), piece(10, 20, 2), piece(20, 30, 3)], 5, 20);
  expect(cut.map(({ fromMs, toMs }) => [fromMs, toMs])).toEqual([
    [5, 10],
    [10, 20],
  ]);
});
