import fc from "fast-check";
import { expect, test } from "vitest";
import { stepJudge } from "../../rules/judge.js";
import { lastDone, noteDeed, type Tended, UNTENDED } from "../../rules/tended.js";
import { DEEDS, type Deed } from "../../shared/deed.js";
import { HOUR_MS } from "../../shared/time.js";
import { judge, START_MS, siteOf } from "./quillmere.js";

type Told = readonly [deed: Deed, atMs: number];
const noteAll = (told: readonly Told[]): Tended =>
  told.reduce((tended, [deed, atMs]) => noteDeed(tended, deed, atMs, false), UNTENDED);

test("deeds told in any order, and again, leave the same memory", () => {
  const deeds = fc.array(fc.tuple(fc.constantFrom(...DEEDS), fc.integer({ min: 1, max: 30 })));
  fc.assert(
    fc.property(deeds, fc.nat(), (told, turn) => {
      const cut = told.length === 0 ? 0 : turn % told.length;
      const other = [...told.slice(cut), ...told, ...told.slice(0, cut)].reverse();
      expect(noteAll(other)).toEqual(noteAll(told));
    }),
    { seed: 1107 },
  );
});

test("the last deed counts, one dated ahead waits for its time, and one that was none is gone", () => {
  const tended = noteAll([
    ["damped", 10],
    ["damped", 30],
    ["damped", 20],
    ["aired", 40],
  ]);
  expect([5, 10, 25, 99].map((at) => lastDone(tended, "damped", at))).toEqual([null, 10, 20, 30]);
  const corrected = noteDeed(tended, "damped", 30, true);
  expect(lastDone(corrected, "damped", 99)).toBe(20);
  expect(noteDeed(corrected, "damped", 30, true)).toBe(corrected);
});

test("a deed is kept with its chamber, moves no clock, and a deed elsewhere passes by", () => {
  const site = siteOf([["shed-air", "air"]]);
  const { state } = judge([{ kind: "tick", atMs: START_MS }], site);
  const atMs = START_MS - 5 * HOUR_MS;
  const tell = (chamberId: string, deed: Deed) =>
    stepJudge(state, { kind: "tended", chamberId, atMs, deed }, site);
  const damped = tell("shed", "damped");
  expect(damped.findings).toEqual([]);
  expect(damped.state.nowMs).toBe(START_MS);
  expect(damped.state.chambers[0]!.tended.damped).toEqual([atMs]);
  expect(tell("loft", "damped").state).toBe(state);
  expect(tell("shed", "moved").state).toBe(state);
});
