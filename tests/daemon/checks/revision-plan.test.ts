import { expect, test } from "vitest";
import { planRevision, type Told } from "../../../daemon/checks/revision-plan.js";
import type { Finding } from "../../../shared/excursion.js";
import { doorFinding } from "../store/temporary-store.js";

const FROM_MS = 10_000;
const finding = (excursionId: string, atMs: number, change: Partial<Finding> = {}): Finding =>
  doorFinding({ excursionId, atMs, startedAtMs: atMs, ...change });
const told = (id: string, ...findings: Finding[]): Told => ({ id, findings });

function plan(known: readonly Told[], findings: readonly Finding[], others: readonly Told[] = []) {
  const byId = (id: string) => [...known, ...others].find((one) => one.id === id) ?? null;
  const { before, after } = planRevision("shed", FROM_MS, known, byId, findings);
  return { before: before.map(({ id }) => id), after: after.map(({ id }) => id) };
}

test("what is judged otherwise goes, what is judged anew comes", () => {
  const gone = told("gone", finding("gone", 12_000));
  expect(plan([gone], [finding("new", 13_000)])).toEqual({ before: ["gone"], after: ["new"] });
});

test("what comes out the same is left alone", () => {
  const same = told("same", finding("same", 12_000), finding("same", 13_000, { change: "ended" }));
  expect(plan([same], same.findings)).toEqual({ before: [], after: [] });
});

test("what cost something else now takes its own place", () => {
  const known = told("one", finding("one", 12_000, { cocoonC: 5 }));
  const anew = [finding("one", 12_000, { cocoonC: 3 })];
  expect(plan([known], anew)).toEqual({ before: ["one"], after: ["one"] });
});

test("what was over before the date stays as it was told, however it is judged now", () => {
  const ended = [finding("old", 5_000), finding("old", 9_000, { change: "ended" })];
  expect(plan([], ended)).toEqual({ before: [], after: [] });
});

test("what lasted beyond the date and now ends before it is told with that end", () => {
  const known = told("one", finding("one", 5_000), finding("one", 12_000, { change: "ended" }));
  const anew = [finding("one", 5_000), finding("one", 9_000, { change: "ended" })];
  expect(plan([known], anew)).toEqual({ before: ["one"], after: ["one"] });
});

test("what ended before the date and now lasts beyond it replaces what the store has", () => {
  const old = told("one", finding("one", 5_000), finding("one", 9_000, { change: "ended" }));
  const anew = [finding("one", 5_000), finding("one", 12_000, { change: "ended" })];
  expect(plan([], anew, [old])).toEqual({ before: ["one"], after: ["one"] });
});

test("silences and other chambers are none of its business", () => {
  const mute = told("mute", finding("mute", 12_000, { cause: "probe-mute" }));
  const loft = told("loft", finding("loft", 12_000, { chamberId: "loft" }));
  expect(plan([mute, loft], [])).toEqual({ before: [], after: [] });
});
