import fc from "fast-check";
import { expect, test } from "vitest";
import { matrixDaysMost, matrixVerdict, steadyC, winterVerdict } from "../../rules/matrix.js";

test("between what did and what did not, it is doubtful", () => {
  expect(matrixVerdict(151, 6)).toBe("doubtful");
  expect(matrixVerdict(150, 6)).toBe("suitable");
  expect(matrixVerdict(151, 7)).toBe("doubtful");
  expect(matrixVerdict(211, 3.9)).toBe("suitable");
  expect(matrixVerdict(211, 4.1)).toBe("doubtful");
  expect(matrixVerdict(211, 7)).toBe("unsuitable");
  expect(matrixVerdict(30, 7.1)).toBe("doubtful");
  expect(matrixVerdict(30, 10)).toBe("unsuitable");
  expect(matrixVerdict(209, 9.9)).toBe("doubtful");
  expect(matrixVerdict(210, 9.9)).toBe("unsuitable");
});

test("outside what was tried it does not guess", () => {
  expect(matrixVerdict(13, 20)).toBeNull();
  expect(matrixVerdict(14, 20)).toBe("unsuitable");
  expect(matrixVerdict(Number.NaN, 3)).toBeNull();
  expect(matrixVerdict(271, 3)).toBe("untried");
  expect(matrixVerdict(271, 7)).toBe("unsuitable");
  // Frost is another matter: the coldest row speaks.
  expect(matrixVerdict(200, -2)).toBe("suitable");
  expect(matrixVerdict(200, 25)).toBe("unsuitable");
});

test("it says for how long a temperature is suitable", () => {
  expect([0, 4, 5, 7, 8, 10, 20].map(matrixDaysMost)).toEqual([270, 270, 150, 150, 0, 0, 0]);
});

test("the steady temperature burns the same reserve", () => {
  expect(steadyC(100, 100)).toBeCloseTo(4, 12);
  // Rate at 7 °C with Q10 2.5: 1.3164 (derived by arithmetic).
  expect(steadyC(100, 131.64)).toBeCloseTo(7, 3);
  // Half the time at 0 and half at 8 °C burns 1.06792 times what 4 °C does: above the mean.
  expect(steadyC(100, 106.792)!).toBeGreaterThan(4.6);
  expect(steadyC(0, 0)).toBeNull();
});

test("the stricter of matrix and reserve speaks", () => {
  const at = (days: number, rate: number) => winterVerdict(days, days * rate, 200)!;
  expect(at(120, 0.9)).toMatchObject({ verdict: "sound", speaks: "both" });
  // 5 °C for 180 days: the reserve is within a usual winter's, the matrix is not sure.
  expect(at(180, 1.096)).toMatchObject({ matrix: "doubtful", verdict: "strained" });
  expect(at(180, 1.096)).toMatchObject({ reserve: "ample", speaks: "matrix" });
  // 10 °C for 60 days: little reserve is gone, and yet no such winter did.
  expect(at(60, 1.733)).toMatchObject({
    matrix: "unsuitable",
    reserve: "ample",
    verdict: "harmed",
  });
  // 4 °C for 240 days: the matrix has seen it done, but it is more than a usual winter.
  expect(at(240, 0.999)).toMatchObject({ matrix: "suitable", reserve: "thin", speaks: "reserve" });
  expect(winterVerdict(0, 0, 200)).toBeNull();
});

test("a longer winter or a warmer one is never judged more kindly", () => {
  const rank = { sound: 0, strained: 1, harmed: 2 };
  const days = fc.double({ min: 14, max: 320, noNaN: true });
  const rate = fc.double({ min: 0.6, max: 3, noNaN: true });
  fc.assert(
    fc.property(days, rate, fc.double({ min: 1, max: 1.5, noNaN: true }), (d, r, more) => {
      const now = rank[winterVerdict(d, d * r, 200)!.verdict];
      expect(rank[winterVerdict(d, d * r * more, 200)!.verdict]).toBeGreaterThanOrEqual(now);
      const longer = winterVerdict(d * more, d * more * r, 200)!;
      expect(rank[longer.verdict]).toBeGreaterThanOrEqual(now);
    }),
    { seed: 41, numRuns: 500 },
  );
});
