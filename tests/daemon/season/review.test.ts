import { expect, test } from "vitest";
import { reviewOf } from "../../../daemon/season/review.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { DECEMBER_MS, december, doorMark, hours } from "../drawing/winter-material.js";

const ZONE = "Europe/London";

/** December cut to these hours. */
function kept(means: readonly number[], changed: Parameters<typeof december>[0] = {}) {
  const watched = { fromMs: DECEMBER_MS, toMs: DECEMBER_MS + means.length * HOUR_MS };
  return december({ cocoons: hours(means, 0), humidity: [], watched, ...changed });
}

const constant = (count: number, value: number) => Array.from({ length: count }, () => value);

test("a day at 20 °C takes 4.33 days of reserve, and one at 7 °C 1.32", () => {
  // 2.5^((20 − 4)/10) = 4.3322 and 2.5^((7 − 4)/10) = 1.3164: arithmetic.
  expect(reviewOf(kept(constant(24, 20)), ZONE).whole.reserveDays).toBeCloseTo(4.3322, 4);
  expect(reviewOf(kept(constant(24, 7)), ZONE).whole.reserveDays).toBeCloseTo(1.3164, 4);
});

test("a swing of 4 ± 3 °C burns what the modified Bessel function says", () => {
  // Mean of 2.5^(3 sin x / 10) over a turn is I0(3 ln 2.5 / 10) = 1.01898. Sampled each hour and
  // joined by straight lines it falls short by a part in a thousand.
  const means = Array.from({ length: 240 }, (_, i) => 4 + 3 * Math.sin(((i + 0.5) * Math.PI) / 12));
  const { whole } = reviewOf(kept(means), ZONE);
  expect(whole.reserveDays! / 10).toBeGreaterThan(1.0165);
  expect(whole.reserveDays! / 10).toBeLessThan(1.0195);
});

test("degree-hours are degrees beyond the band times hours", () => {
  const { whole } = reviewOf(kept([...constant(24, 5.3), ...constant(24, 5.3)]), ZONE);
  expect(whole.degreeHoursAbove).toBeCloseTo(48 * 2, 6);
  expect(whole.inBandShare).toBe(0);
  expect(whole.meanKineticC).toBeCloseTo(5.3, 9);
});

test("what was not seen costs nothing, and is counted", () => {
  const cocoons = hours(constant(48, 5.3), 0).filter(
    ({ fromMs }) => fromMs < DECEMBER_MS + 10 * HOUR_MS || fromMs >= DECEMBER_MS + 30 * HOUR_MS,
  );
  const { whole } = reviewOf(kept(constant(48, 5.3), { cocoons }), ZONE);
  expect(whole.seenHours).toBe(28);
  expect(whole.unseenHours).toBe(20);
  expect(whole.degreeHoursAbove).toBeCloseTo(28 * 2, 6);
});

test("months and weeks begin where the site's calendar has them, and add up to the whole", () => {
  const means = Array.from({ length: 40 * 24 }, (_, i) => 2 + 3 * Math.sin(i / 30));
  const span = { fromMs: DECEMBER_MS, toMs: DECEMBER_MS + 62 * DAY_MS };
  const material = kept(means, {
    span,
    openingsMs: [1, 5, 35].map((day) => DECEMBER_MS + day * DAY_MS),
    excursions: [doorMark()],
  });
  const { whole, months, weeks: reckonWeeks } = reviewOf(material, ZONE);
  const weeks = reckonWeeks();
  expect(months.map(({ fromMs, toMs }) => (toMs - fromMs) / DAY_MS)).toEqual([31, 9]);
  // 1 December 2026 is a Tuesday.
  expect(weeks.map(({ fromMs, toMs }) => (toMs - fromMs) / DAY_MS)).toEqual([6, 7, 7, 7, 7, 6]);
  for (const parts of [months, weeks]) {
    const sum = (read: (one: (typeof parts)[number]) => number) =>
      parts.reduce((all, one) => all + read(one), 0);
    expect(sum((one) => one.seenHours)).toBe(whole.seenHours);
    expect(sum((one) => one.openings)).toBe(3);
    expect(sum((one) => one.excursions)).toBe(1);
    // A step across the border of two parts belongs half to each, along its own mean.
    expect(sum((one) => one.degreeHoursAbove) / whole.degreeHoursAbove).toBeCloseTo(1, 2);
    expect(sum((one) => one.reserveDays!) / whole.reserveDays!).toBeCloseTo(1, 3);
  }
});

test("of a winter of which nothing is known nothing is claimed", () => {
  const empty = { fromMs: DECEMBER_MS, toMs: DECEMBER_MS };
  const { whole, months } = reviewOf(december({ cocoons: [], humidity: [], watched: empty }), ZONE);
  expect(months).toEqual([]);
  expect(whole).toMatchObject({
    inBandShare: null,
    reserveDays: null,
    cocoonSpanC: null,
    seenHours: 0,
  });
});
