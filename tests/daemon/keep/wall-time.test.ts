import { expect, test } from "vitest";
import { latestWallMs } from "../../../daemon/keep/wall-time.js";

const LONDON = "Europe/London";
const latest = (now: string, time: string, weekday?: number) => {
  const wall = weekday === undefined ? { time } : { time, weekday };
  return new Date(latestWallMs(Date.parse(now), wall, LONDON)).toISOString();
};

test("a time of day came today or yesterday, one of a week within the last seven days", () => {
  expect(latest("2026-01-15T03:30:00Z", "03:30")).toBe("2026-01-15T03:30:00.000Z");
  expect(latest("2026-01-15T03:29:59Z", "03:30")).toBe("2026-01-14T03:30:00.000Z");
  // 15 January 2026 is a Thursday.
  expect(latest("2026-01-15T12:00:00Z", "18:00", 4)).toBe("2026-01-08T18:00:00.000Z");
  expect(latest("2026-01-15T12:00:00Z", "07:00", 0)).toBe("2026-01-11T07:00:00.000Z");
});

test("a time that the clocks pass over comes an hour later, one shown twice comes once", () => {
  // In the United Kingdom clocks went from 01:00 to 02:00 on 29 March 2026, and they go from
  // 02:00 back to 01:00 on 25 October 2026.
  expect(latest("2026-03-29T02:00:00Z", "01:30")).toBe("2026-03-29T01:30:00.000Z");
  expect(latest("2026-10-25T00:45:00Z", "01:30")).toBe("2026-10-25T00:30:00.000Z");
  expect(latest("2026-10-25T01:45:00Z", "01:30")).toBe("2026-10-25T00:30:00.000Z");
});
