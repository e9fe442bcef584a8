import { dueDeed, dueWhen, dueWithin } from "../../due/due-words.js";
import type { YearReport } from "../../due/gather-due.js";
import { layTable } from "../table.js";

/** What falls due so soon is worth a line here; `drowse due` has the rest. */
const WITHIN_DAYS = 7;

/** What is due within a week, and how near a release is, in a few lines. */
export function showYear(year: YearReport): string {
  const due = dueWithin(year, WITHIN_DAYS);
  const lines =
    due.length === 0
      ? [`Nothing falls due within ${WITHIN_DAYS} days.`]
      : [
          layTable(
            ["due", ""],
            due.map((one) => [dueDeed(one), dueWhen(one, year.today)]),
          ),
        ];
  const word = year.release?.word ?? "hold";
  const release = word === "hold" ? [] : [`Release: ${word}; see drowse due`];
  return [...lines, ...release].join("\n\n");
}
