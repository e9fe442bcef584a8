import { expect, test } from "vitest";
import type { CheckEntry } from "../../../daemon/checks/record.js";
import { annotationsOf } from "../../../daemon/season/annotations.js";
import type { Act, Entry } from "../../../shared/journal.js";

import { madeCheck } from "../checks/made-checks.js";
import { QUILLMERE } from "../letters/quillmere.js";
import { openedStore, temporaryFolder } from "../store/temporary-store.js";

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

const annotated = (...entries: readonly Entry[]) => annotatedWith(entries, []);

const annotatedWith = (entries: readonly Entry[], checks: readonly CheckEntry[]) => {
  const store = openedStore(temporaryFolder());
  for (const check of checks) store.checks.add(check);
  const journal = {
    soFar: () => ({ entries, lots: [], nextNo: entries.length + 1 }),
    newestNo: () => entries.length,
    write: () => [],
    writeOnce: () => ({ numbers: [], isAgain: false }),
  };
  const span = { fromMs: 1_000, toMs: 10_000 };
  return annotationsOf({ journal, checks: store.checks }, QUILLMERE, "shed", span);
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

test("checks of the chamber's probes stand among what was done, those withdrawn do not", () => {
  const wrong = madeCheck(0.4, { madeAtMs: 4_000, id: "wrong" });
  const withdrawal = {
    kind: "withdrawal",
    id: "back",
    madeAtMs: 4_500,
    checkId: wrong.id,
    by: null,
    note: null,
  } as const;
  const elsewhere = madeCheck(0.1, { madeAtMs: 6_000, id: "other", probeId: "yard" });
  expect(
    annotatedWith(
      [entry(5, { kind: "damped" })],
      [madeCheck(0.1, { madeAtMs: 7_000 }), wrong, withdrawal, elsewhere],
    ),
  ).toEqual([
    { atMs: 5_000, kind: "damped", text: "damped" },
    {
      atMs: 7_000,
      kind: "check",
      text: "shed-air: temperature checked against melting ice, within tolerance",
    },
  ]);
});
