import { expect, test } from "vitest";
import { timeTicks } from "../../../daemon/drawing/time-axis.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { LOOK } from "./winter-material.js";

const labels = (fromMs: number, hours: number, widthPx: number, look = LOOK) =>
  timeTicks({ fromMs, toMs: fromMs + hours * HOUR_MS }, widthPx / (hours * HOUR_MS), look).map(
    ({ label }) => label,
  );

test("a wide day has its hours, a narrow one fewer", () => {
  const noon = Date.UTC(2026, 11, 1, 12);
  expect(labels(noon, 4, 1000).slice(0, 3)).toEqual(["12:00", "12:15", "12:30"]);
  expect(labels(noon, 12, 600)).toEqual(
    ["12", "13", "14", "15", "16", "17", "18", "19", "20", "21", "22", "23"].map((h) => `${h}:00`),
  );
  expect(labels(noon - 12 * HOUR_MS, 24, 330)).toEqual(["00:00", "06:00", "12:00", "18:00"]);
});

test("clocks that change leave no hour out and show none that there is not", () => {
  // In London 01:00 is followed by 02:00 on 28 March 2027, and 01:00 comes twice on 25 October 2026.
  const spring = labels(Date.UTC(2027, 2, 28), 6, 360);
  expect(spring).toEqual(["00:00", "02:00", "03:00", "04:00", "05:00", "06:00"]);
  const autumn = labels(Date.UTC(2026, 9, 24, 23), 5, 300);
  expect(autumn).toEqual(["00:00", "01:00", "01:00", "02:00", "03:00"]);
});

test("days are named with their weekday where there is room, else by number", () => {
  const monday = Date.UTC(2026, 10, 30);
  const week = timeTicks({ fromMs: monday, toMs: monday + 7 * DAY_MS }, 280 / (7 * DAY_MS), LOOK);
  expect(week.map(({ label }) => label).slice(0, 2)).toEqual(["Mon 30", "Tue 1"]);
  const month = timeTicks(
    { fromMs: monday, toMs: monday + 30 * DAY_MS },
    300 / (30 * DAY_MS),
    LOOK,
  );
  expect(month.map(({ label }) => label).filter(Boolean)).toEqual([
    "30",
    "1",
    "5",
    "10",
    "15",
    "20",
    "25",
  ]);
  expect(month.every(({ isDay }) => isDay)).toBe(true);
});
