import fc from "fast-check";
import { expect, test } from "vitest";
import { lateWarmth, urgencyLate } from "../../rules/late-warmth.js";
import { profileOf } from "../../rules/species.js";

const BEE = profileOf("osmia-bicornis");

test("a fridge at room temperature in February can start emergence within a day", () => {
  // SARE Handbook 11: males emerge 1 to 7 days after 21 to 26 °C sets in. From 90 days of chill on
  // they emerge best (Bosch and Kemp 2004).
  expect(lateWarmth(100, 21, BEE)).toEqual({ sleep: "ready", soonestDays: 1 });
  expect(lateWarmth(90, 21, BEE)).toEqual({ sleep: "ready", soonestDays: 1 });
  expect(lateWarmth(100, 24, BEE).soonestDays!).toBeLessThan(1);
});

test("bees that had too little chill stay asleep, and those between take longer", () => {
  expect(lateWarmth(29, 21, BEE)).toEqual({ sleep: "asleep", soonestDays: null });
  expect(lateWarmth(30, 21, BEE)).toEqual({ sleep: "lightening", soonestDays: 7 });
  expect(lateWarmth(60, 21, BEE)).toEqual({ sleep: "lightening", soonestDays: 4 });
});

test("cold keeps bees asleep however much chill they had", () => {
  expect(lateWarmth(150, 10, BEE).soonestDays).toBeNull();
  expect(lateWarmth(150, 3, BEE).soonestDays).toBeNull();
});

test("warmth is more urgent once they are ready and warmer than counts as chill", () => {
  expect(urgencyLate("visit", 100, 8, BEE)).toBe("rush");
  expect(urgencyLate("note", 100, 8, BEE)).toBe("visit");
  expect(urgencyLate("rush", 100, 8, BEE)).toBe("rush");
  expect(urgencyLate(null, 100, 8, BEE)).toBeNull();
  expect(urgencyLate("visit", 100, 7, BEE)).toBe("visit");
  expect(urgencyLate("visit", 89, 8, BEE)).toBe("visit");
});

test("more chill and more warmth never put emergence off", () => {
  const chill = fc.double({ min: 0, max: 200, noNaN: true });
  const c = fc.double({ min: 0, max: 30, noNaN: true });
  const days = (chillDays: number, cocoonC: number) =>
    lateWarmth(chillDays, cocoonC, BEE).soonestDays ?? Number.POSITIVE_INFINITY;
  fc.assert(
    fc.property(chill, c, (chillDays, cocoonC) => {
      expect(days(chillDays + 5, cocoonC)).toBeLessThanOrEqual(days(chillDays, cocoonC));
      expect(days(chillDays, cocoonC + 1)).toBeLessThanOrEqual(days(chillDays, cocoonC));
    }),
    { seed: 42 },
  );
});
