import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type CheckQuestion, fitFor, weighCheck } from "../../../rules/checks/result.js";
import { correctionAt, type Pair } from "../../../shared/check.js";

const pair = (probe: number, reference: number): Pair => ({ atMs: null, probe, reference });
const certificate = (standard: number) =>
  ({ what: "the reference", kind: "B", standard, degreesOfFreedom: null, from: "" }) as const;

const QUESTION: CheckQuestion = {
  pairs: [pair(0.4, 0), pair(0.5, 0), pair(0.6, 0)],
  fit: "offset",
  tolerance: 0.5,
  before: null,
  components: [],
};

test("a probe that shows half a degree too much in ice has half a degree taken off", () => {
  const { correction, residualSd, asFound } = weighCheck(QUESTION);
  for (const value of [-5, 0.5, 30]) expect(correctionAt(correction, value)).toBeCloseTo(-0.5, 12);
  // Standard deviation of 0.4, 0.5 and 0.6.
  expect(residualSd).toBeCloseTo(0.1, 12);
  expect(asFound.deviation).toBeCloseTo(0.5, 12);
  // Twice 0.1/√3.
  expect(asFound.expanded).toBeCloseTo(0.2 / Math.sqrt(3), 12);
});

describe("what the doubt does to a verdict", () => {
  const found = (tolerance: number, standard: number) =>
    weighCheck({
      ...QUESTION,
      pairs: [pair(0.3, 0), pair(0.3, 0), pair(0.3, 0)],
      tolerance,
      components: [certificate(standard)],
    }).asFound.verdict;

  test.each([
    // 0.3 off; U is twice the standard uncertainty.
    [0.51, 0.1, "within"],
    [0.49, 0.1, "undecided"],
    [0.11, 0.1, "undecided"],
    [0.09, 0.1, "outside"],
    [0.31, 0, "within"],
    [0.29, 0, "outside"],
  ] as const)("tolerance %s, u %s: %s", (tolerance, standard, verdict) => {
    expect(found(tolerance, standard)).toBe(verdict);
  });
});

test("a line takes off what grows with the value, and stays what it is beyond its ends", () => {
  const pairs = [0, 5, 10, 15, 20].map((x) => pair(x, x * 0.98 + 0.1));
  const { correction, asFound, asLeft } = weighCheck({ ...QUESTION, pairs, fit: "line" });
  expect(correctionAt(correction, 10)).toBeCloseTo(-0.1, 12);
  expect(correctionAt(correction, 20)).toBeCloseTo(-0.3, 12);
  expect(correctionAt(correction, 50)).toBeCloseTo(-0.3, 12);
  expect(correctionAt(correction, -9)).toBeCloseTo(0.1, 12);
  expect(asFound).toMatchObject({ at: 20 });
  expect(asFound.deviation).toBeCloseTo(0.3, 12);
  expect(asLeft.deviation).toBeCloseTo(0, 12);
});

test("a probe read with a correction is judged as it was read", () => {
  const before = { pivot: 0, atPivot: -0.5, slope: 0, low: 0, high: 0 };
  const { correction, asFound } = weighCheck({ ...QUESTION, before });
  expect(asFound.deviation).toBeCloseTo(0, 12);
  // The new correction is for the raw value, in place of the old one and not on top of it.
  expect(correctionAt(correction, 3)).toBeCloseTo(-0.5, 12);
});

test("under three pairs there is no scatter to speak of, so nothing is said", () => {
  expect(() => weighCheck({ ...QUESTION, pairs: [pair(1, 0), pair(1, 0)] })).toThrow(RangeError);
});

test("a line is fitted only where four pairs reach far enough", () => {
  const at = (...values: number[]) => values.map((v) => pair(v, v));
  expect(fitFor(at(0, 2, 4, 5), 5)).toBe("line");
  expect(fitFor(at(0, 2, 4, 4.9), 5)).toBe("offset");
  expect(fitFor(at(0, 5, 10), 5)).toBe("offset");
});

/** Pairs that spread over x, so that a line can be put through them. */
const somePairs = fc
  .array(
    fc.record({
      probe: fc.double({ min: -20, max: 40, noNaN: true }),
      off: fc.double({ min: -2, max: 2, noNaN: true }),
    }),
    { minLength: 4, maxLength: 20 },
  )
  .map((list) => list.map(({ probe, off }) => pair(probe, probe + off)))
  .filter((pairs) => fitFor(pairs, 1) === "line");
const someQuestion = fc.record({
  pairs: somePairs,
  fit: fc.constantFrom("offset" as const, "line" as const),
  tolerance: fc.double({ min: 0.1, max: 3, noNaN: true }),
  before: fc.option(
    fc.record({
      pivot: fc.double({ min: -5, max: 20, noNaN: true }),
      atPivot: fc.double({ min: -1, max: 1, noNaN: true }),
      slope: fc.double({ min: -0.1, max: 0.1, noNaN: true }),
      low: fc.double({ min: -10, max: 0, noNaN: true }),
      high: fc.double({ min: 1, max: 30, noNaN: true }),
    }),
    { nil: null },
  ),
  components: fc
    .double({ min: 0, max: 0.5, noNaN: true })
    .map((standard) => [certificate(standard)]),
});
const SEED = 19770105;

/** The same question as somebody would ask it who counts in another unit. */
function inUnit(
  { pairs, tolerance, before, components, fit }: CheckQuestion,
  a: number,
  b: number,
) {
  const turned = (value: number) => a * value + b;
  return {
    fit,
    tolerance: a * tolerance,
    pairs: pairs.map(({ probe, reference }) => pair(turned(probe), turned(reference))),
    before: before && {
      ...before,
      pivot: turned(before.pivot),
      atPivot: a * before.atPivot,
      low: turned(before.low),
      high: turned(before.high),
    },
    components: components.map((c) => ({ ...c, standard: a * c.standard })),
  };
}

/** How near a verdict is to another one, in shares of the tolerance. */
function leeway({ asFound, asLeft }: ReturnType<typeof weighCheck>, tolerance: number): number {
  const edges = [asFound, asLeft].flatMap(({ deviation, expanded }) => [
    Math.abs(Math.abs(deviation) + expanded - tolerance),
    Math.abs(Math.abs(deviation) - expanded - tolerance),
  ]);
  return Math.min(...edges) / tolerance;
}

test("verdicts are the same in degrees Fahrenheit or any other unit", () => {
  fc.assert(
    fc.property(
      someQuestion,
      fc.constantFrom([1.8, 32], [1, 273.15], [0.01, 0]),
      (question, [a, b]) => {
        const here = weighCheck(question);
        // Where a verdict hangs on the last bit, rounding may turn it.
        fc.pre(leeway(here, question.tolerance) > 1e-9);
        const there = weighCheck(inUnit(question, a!, b!));
        expect(there.asFound.verdict).toBe(here.asFound.verdict);
        expect(there.asLeft.verdict).toBe(here.asLeft.verdict);
        expect(there.asFound.deviation / a!).toBeCloseTo(here.asFound.deviation, 6);
        expect(there.budget.expanded / a!).toBeCloseTo(here.budget.expanded, 6);
      },
    ),
    { seed: SEED },
  );
});

test("the order of the pairs does not matter", () => {
  const shuffled = someQuestion.chain((question) =>
    fc.tuple(
      fc.constant(question),
      fc.shuffledSubarray([...question.pairs], { minLength: question.pairs.length }),
    ),
  );
  fc.assert(
    fc.property(shuffled, ([question, pairs]) => {
      expect(weighCheck({ ...question, pairs })).toEqual(weighCheck(question));
    }),
    { seed: SEED },
  );
});
