import { expect, test } from "vitest";
import { annotationsOf } from "../../../daemon/season/annotations.js";
import type { Act, Entry } from "../../../shared/journal.js";

const entry = (no: number, act: Act, changed: Partial<Entry> = {}): Entry => ({
  no,
  atMs: no * 1_000,
  writtenAtMs: no * 1_000,
  chamberId: "shed",
  lotId: null,
  act,
  words: "",
  corrects: null,
  ...changed,
});

const annotated = (...entries: readonly Entry[]) => {
  const journal = {
    soFar: () => ({ entries, lots: [], nextNo: entries.length + 1 }),
    newestNo: () => entries.length,
    write: () => [],
  };
  return annotationsOf({ journal }, "shed", { fromMs: 1_000, toMs: 10_000 });
};

test("what was done in a chamber stands on its pictures, in the order of when", () => {
  expect(
    annotated(
      entry(3, { kind: "damped" }, { words: "two drops" }),
      entry(1, { kind: "inspected", seen: ["mould"] }),
      entry(2, { kind: "aired" }, { chamberId: "attic" }),
    ),
  ).toEqual([
    { atMs: 1_000, kind: "seen", text: "inspected: mould" },
    { atMs: 3_000, kind: "damped", text: "damped (two drops)" },
  ]);
});

test("a lot that comes into the chamber is noted, and what was taken back is not", () => {
  const into = entry(1, { kind: "moved", toChamberId: "shed" }, { chamberId: null, lotId: "oak" });
  const wrong = entry(2, { kind: "damped" });
  const back = entry(3, { kind: "withdrawn" }, { corrects: 2 });
  expect(annotated(into, wrong, back)).toEqual([
    { atMs: 1_000, kind: "lot", text: "lot oak: moved into shed" },
  ]);
});

test("what lies outside the stretch is left out, its end included", () => {
  const out = [0.5, 10, 11].map((no) => entry(no, { kind: "aired" }));
  expect(annotated(...out)).toEqual([]);
});
