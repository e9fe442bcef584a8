import { expect, test } from "vitest";
import { reminderDueAtMs } from "../../../daemon/keep/reminder-schedule.js";

const MIN = 60_000;
type Kind = Parameters<typeof reminderDueAtMs>[0][number]["kind"];
const letters = (...all: Array<[Kind, number]>) =>
  all.map(([kind, min]) => ({ kind, createdAtMs: min * MIN }));
const dueMin = (...all: Array<[Kind, number]>) => {
  const due = reminderDueAtMs(letters(...all));
  return due === null ? null : due / MIN;
};

test("a rush is said again after 15, 30, 60 and then each 120 minutes", () => {
  const sent: Array<[Kind, number]> = [["opening", 0]];
  const times = [];
  for (let i = 0; i < 6; i++) {
    const due = dueMin(...sent)!;
    times.push(due);
    sent.push(["reminder", due]);
  }
  expect(times).toEqual([15, 45, 105, 225, 345, 465]);
});

test("a letter with news begins the waits anew", () => {
  expect(dueMin(["opening", 0], ["reminder", 15], ["reminder", 45], ["raised", 50])).toBe(65);
  expect(dueMin(["opening", 0], ["raised", 50], ["reminder", 65])).toBe(95);
});

test("without a first letter there is nothing to remind of", () => {
  expect(dueMin()).toBe(null);
});
