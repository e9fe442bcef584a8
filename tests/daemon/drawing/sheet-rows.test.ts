import { expect, test } from "vitest";
import { placeMonths, weekdayOf, weekRows } from "../../../daemon/drawing/sheet-rows.js";
import { DAY_MS } from "../../../shared/time.js";
import { LOOK } from "./winter-material.js";

const months = (...days: readonly string[]) =>
  days.map((day) => ({ monthMs: Date.parse(`${day}T00:00:00Z`) }));
const places = (...columns: readonly ReturnType<typeof months>[]) =>
  columns.map((column) => placeMonths(column, columns, "UTC").map(({ place }) => place));

test("months of one name stand beside each other, whenever their winters began", () => {
  // Counted from July: October is 3, November 4, January 6.
  expect(
    places(
      months("2025-10-01", "2025-11-01", "2025-12-01", "2026-01-01"),
      months("2026-11-01", "2026-12-01"),
    ),
  ).toEqual([
    [3, 4, 5, 6],
    [4, 5],
  ]);
});

test("where no two months have one name, the first stands beside the first", () => {
  expect(places(months("2026-01-01", "2026-02-01"), months("2025-11-01", "2025-12-01"))).toEqual([
    [0, 1],
    [0, 1],
  ]);
});

test("weeks begin on Monday, and stay whole through a change of clocks", () => {
  // 1 October 2026 is a Thursday; in London clocks go back on Sunday the 25th.
  const fromMs = Date.UTC(2026, 8, 30, 23);
  const rows = weekRows({ fromMs, toMs: Date.UTC(2026, 10, 1) }, LOOK);
  expect(rows.map(({ dayStarts }) => dayStarts.length - 1)).toEqual([4, 7, 7, 7, 6]);
  expect(rows.map(({ span }) => weekdayOf(span.fromMs, LOOK))).toEqual([3, 0, 0, 0, 0]);
  // Thursday is the fourth day from the left.
  expect(rows[0]!.span.fromMs - rows[0]!.originMs).toBe(3 * DAY_MS);
  expect(rows[1]!.originMs).toBe(rows[1]!.span.fromMs);
});
