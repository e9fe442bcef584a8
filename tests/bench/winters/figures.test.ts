import { expect, test } from "vitest";
import { sumScores } from "./figures.js";
import type { Label } from "./label.js";
import type { Score, Told, Verdict } from "./score.js";

const LETTER = { cause: "door-ajar" } as Told;

function doorOf(delayMin: number | null, airRiseK: number): Verdict {
  const label = { kind: "door-ajar", airRiseK } as Label;
  const told = delayMin !== null;
  return {
    label,
    letter: told ? LETTER : null,
    delayMin,
    causeRight: told && delayMin < 6,
    inTime: told && delayMin <= 8,
  };
}

test("figures count all winters together, and the worst of them by itself", () => {
  const first: Score = {
    verdicts: [doorOf(4, 9), doorOf(10, 5), doorOf(null, 0.5)],
    inVain: [LETTER, LETTER],
    letters: 4,
  };
  const second: Score = { verdicts: [doorOf(5, 2)], inVain: [], letters: 1 };
  const figures = sumScores([first, second]);
  expect(figures.kinds["door-ajar"]).toEqual({
    events: 4,
    told: 3,
    inTime: 2,
    medianMin: 5,
    maxMin: 10,
    causeRight: 2,
  });
  expect(figures.feltDoors).toMatchObject({ events: 3, told: 3, inTime: 2 });
  expect(figures).toMatchObject({ winters: 2, inVain: 2, inVainWorst: 2 });
  expect(figures.kinds["probe-mute"]).toMatchObject({ events: 0, medianMin: null, maxMin: null });
});

test("the median of an even number is halfway between the two in the middle", () => {
  const score: Score = { verdicts: [doorOf(4, 9), doorOf(7, 9)], inVain: [], letters: 2 };
  expect(sumScores([score]).kinds["door-ajar"].medianMin).toBe(5.5);
});
