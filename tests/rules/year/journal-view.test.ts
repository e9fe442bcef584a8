import { expect, test } from "vitest";
import { deedsToTell, entriesThatHold } from "../../../rules/year/journal-view.js";
import { journalOf } from "./entries.js";

const numbers = (...args: Parameters<typeof entriesThatHold>) =>
  entriesThatHold(...args).map(({ no }) => no);

const told = (...args: Parameters<typeof deedsToTell>) =>
  deedsToTell(...args).map(
    ({ chamberId, deed, atMs, withdrawn }) =>
      `${withdrawn ? "not " : ""}${deed} ${chamberId} ${new Date(atMs).toISOString().slice(0, 10)}`,
  );

test("entries hold in the order in which things were done, however late they were written", () => {
  const journal = journalOf(
    { at: "2026-02-01", act: { kind: "aired" } },
    { at: "2026-01-01", act: { kind: "damped" } },
  );
  expect(numbers(journal)).toEqual([2, 1]);
});

test("the last of a chain of corrections holds, and nothing where it takes the entry back", () => {
  const journal = journalOf(
    { at: "2026-01-01", act: { kind: "damped" } },
    { at: "2026-01-02", act: { kind: "damped" }, corrects: 1 },
    { at: "2026-01-03", act: { kind: "aired" }, corrects: 2 },
  );
  expect(numbers(journal)).toEqual([3]);
  const last = journalOf({ at: "2026-01-03", act: { kind: "withdrawn" }, corrects: 3 })[0]!;
  expect(numbers([...journal, { ...last, no: 4 }])).toEqual([]);
});

test("the judge is told what was done, and of an inspection whether there was mould", () => {
  const journal = journalOf(
    { at: "2026-01-01", act: { kind: "damped" } },
    { at: "2026-01-02", act: { kind: "inspected", seen: ["mould", "flies"] } },
    { at: "2026-01-03", act: { kind: "inspected", seen: ["flies"] } },
    { at: "2026-01-04", act: { kind: "bloom" }, chamberId: null },
    { at: "2026-01-05", act: { kind: "moved", toChamberId: "barn" }, lotId: "a" },
    { at: "2026-01-06", act: { kind: "moved", toChamberId: null }, chamberId: "barn", lotId: "a" },
    { at: "2026-01-07", act: { kind: "damped" }, chamberId: null },
  );
  expect(told(journal)).toEqual([
    "damped shed 2026-01-01",
    "inspected shed 2026-01-02",
    "mould-seen shed 2026-01-02",
    "inspected shed 2026-01-03",
    "no-mould shed 2026-01-03",
    "moved barn 2026-01-05",
    "moved barn 2026-01-06",
  ]);
});

test("what was corrected is told as withdrawn, before all that holds", () => {
  const journal = journalOf(
    { at: "2026-01-01", act: { kind: "damped" } },
    { at: "2026-01-08", act: { kind: "damped" }, corrects: 1 },
  );
  expect(told(journal)).toEqual(["not damped shed 2026-01-01", "damped shed 2026-01-08"]);
});

test("a deed that another entry still holds is not withdrawn", () => {
  const journal = journalOf(
    { at: "2026-01-01", act: { kind: "damped" }, lotId: "a" },
    { at: "2026-01-01", act: { kind: "damped" }, lotId: "b" },
    { at: "2026-01-01", act: { kind: "withdrawn" }, corrects: 1 },
  );
  expect(told(journal)).toEqual(["damped shed 2026-01-01"]);
});
