import { expect, test } from "vitest";
import { copiesAmong, copyNameOf, outlivedCopies } from "../../../daemon/copies/copy-names.js";

const namesOfDays = (first: string, days: number): string[] =>
  Array.from({ length: days }, (_, i) => {
    const day = new Date(Date.parse(first) + i * 86_400_000);
    return `drowse-${day.toISOString().slice(0, 10)}.db`;
  });

test("a copy is named for the day of the site, not of UTC", () => {
  const atMs = Date.parse("2026-12-31T23:30:00Z");
  expect(copyNameOf(atMs, "Europe/London")).toBe("drowse-2026-12-31.db");
  expect(copyNameOf(atMs, "Europe/Berlin")).toBe("drowse-2027-01-01.db");
});

test("after a winter of nights the last week and the end of each month are left", () => {
  const winter = namesOfDays("2026-10-15", 181);
  const gone = outlivedCopies(winter);
  const left = winter.filter((name) => !gone.includes(name));
  expect(left).toEqual([
    "drowse-2026-10-31.db",
    "drowse-2026-11-30.db",
    "drowse-2026-12-31.db",
    "drowse-2027-01-31.db",
    "drowse-2027-02-28.db",
    "drowse-2027-03-31.db",
    ...namesOfDays("2027-04-07", 7),
  ]);
});

test("the copy of a month is let go after twelve months that have one", () => {
  const months = Array.from({ length: 14 }, (_, i) => {
    const day = new Date(Date.UTC(2025, i, 15));
    return `drowse-${day.toISOString().slice(0, 10)}.db`;
  });
  expect(outlivedCopies(months)).toEqual(["drowse-2025-02-15.db", "drowse-2025-01-15.db"]);
});

test("what is no copy is neither counted nor let go", () => {
  const names = ["notes.txt", "drowse.db", "drowse-2026-1-1.db", ...namesOfDays("2026-12-01", 9)];
  expect(copiesAmong(names)).toHaveLength(9);
  expect(outlivedCopies(names)).toEqual(["drowse-2026-12-02.db", "drowse-2026-12-01.db"]);
});
