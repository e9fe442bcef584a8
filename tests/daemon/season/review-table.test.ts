import { expect, test } from "vitest";
import { reviewOf } from "../../../daemon/season/review.js";
import { tableOfMonths, tableOfWeeks } from "../../../daemon/season/review-table.js";
import { DECEMBER_MS, december, hours, LOOK } from "../drawing/winter-material.js";

const two = december({
  cocoons: hours([...Array.from({ length: 47 }, () => 5.3), 2.2], 0.1),
  watched: { fromMs: DECEMBER_MS, toMs: DECEMBER_MS + 48 * 3_600_000 },
});
const review = reviewOf(two, LOOK.timezone);
const cell = (table: ReturnType<typeof tableOfMonths>, head: string) =>
  table.rows[0]![table.columns.findIndex((column) => column.head === head)];

test("the table behind a sheet says the same in figures", () => {
  const table = tableOfMonths(review.months, LOOK);
  expect(cell(table, "Month")).toBe("December 2026");
  // One hour of 48.
  expect(cell(table, "In band")).toBe("2 %");
  expect(cell(table, "Cocoons, °C")).toBe("2.1 to 5.4");
  expect(table.rows.every((row) => row.length === table.columns.length)).toBe(true);
});

test("degree-hours of a Fahrenheit keeper are 1.8 times as many", () => {
  // NIST SP 811, appendix B.8: a difference of 1 °C is one of 1.8 °F.
  const [inC, inF] = (["C", "F"] as const).map((unit) =>
    Number(cell(tableOfMonths(review.months, { ...LOOK, unit }), `Above, °${unit}·h`)),
  );
  expect(Math.abs(inF! / inC! - 1.8)).toBeLessThan(0.01);
});

test("a week is named by its first and its last day", () => {
  expect(cell(tableOfWeeks(review.weeks(), LOOK), "Week")).toBe("Tue 1 Dec to Wed 2 Dec");
});
