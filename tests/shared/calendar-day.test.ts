import { expect, test } from "vitest";
import { addDays, daysBetween, isCalendarDay } from "../../shared/calendar-day.js";

test("days are counted through leap days, ends of years and changes of clocks alike", () => {
  expect(addDays("2024-02-28", 2)).toBe("2024-03-01");
  expect(addDays("2025-12-31", 1)).toBe("2026-01-01");
  expect(addDays("2026-03-30", -2)).toBe("2026-03-28");
  // ISO 8601 calendar: 2024 is a leap year, so that October to October has 366 days.
  expect(daysBetween("2023-10-01", "2024-10-01")).toBe(366);
  expect(daysBetween("2026-03-01", "2026-02-28")).toBe(-1);
});

test("a day that does not exist is none", () => {
  expect(isCalendarDay("2024-02-29")).toBe(true);
  for (const text of ["2026-02-29", "2026-13-01", "2026-1-1", "1 Jan 2026", "", "2026-01-01T00"])
    expect(isCalendarDay(text), text).toBe(false);
  expect(() => addDays("2026-02-29", 1)).toThrow(RangeError);
  expect(() => daysBetween("2026-01-01", "soon")).toThrow(RangeError);
});
