import { expect, test } from "vitest";
import { expectSexRatio } from "../../../rules/year/sex-ratio.js";

test("large cocoons stand for females, and the ratio turns the share's interval round", () => {
  const ratio = expectSexRatio(40, 60)!;
  expect(ratio.females.share).toBe(0.4);
  expect(ratio.malesPerFemale).toBe(1.5);
  const { low, high } = ratio.females.span;
  expect(ratio.malesPerFemaleSpan.low).toBeCloseTo((1 - high) / high, 12);
  expect(ratio.malesPerFemaleSpan.high).toBeCloseTo((1 - low) / low, 12);
});

test("no large cocoon leaves the ratio unknown but not what it is at least", () => {
  const ratio = expectSexRatio(0, 20)!;
  expect(ratio.malesPerFemale).toBeNull();
  expect(ratio.malesPerFemaleSpan.high).toBe(Number.POSITIVE_INFINITY);
  // Newcombe (1998), table I, from memory: 0 of 20 reaches up to 0.1611.
  expect(ratio.malesPerFemaleSpan.low).toBeCloseTo((1 - 0.1611) / 0.1611, 2);
});

test("of no cocoons nothing is expected", () => {
  expect(expectSexRatio(0, 0)).toBeNull();
});
