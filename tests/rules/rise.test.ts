import { describe, expect, test } from "vitest";
import type { Habit } from "../../rules/cycle.js";
import type { AirSample } from "../../rules/recent-air.js";
import {
  climbsAgain,
  followRise,
  marginC,
  mixing,
  noticeRise,
  type Rise,
  vapourLost,
} from "../../rules/rise.js";
import { MINUTE_MS } from "../../shared/time.js";

const START_MS = Date.UTC(2025, 10, 1);
/** A fridge between 1 and 4 °C that warms by 0.12 K/min at most. */
const HABIT: Habit = {
  turns: 24,
  topC: 4,
  bottomC: 1,
  usualTopC: 4,
  usualBottomC: 1,
  riseMs: 25 * MINUTE_MS,
  fallMs: 15 * MINUTE_MS,
  steepest: 0.12,
};

const samplesOf = (airsC: readonly number[], stepMin = 1, hpas?: readonly number[]): AirSample[] =>
  airsC.map((airC, i) => ({
    atMs: START_MS + i * stepMin * MINUTE_MS,
    airC,
    hpa: hpas?.[i] ?? null,
  }));

/** The rise noticed first, followed to the last sample; null where none was. */
function riseIn(samples: readonly AirSample[], habit: Habit | null = HABIT): Rise | null {
  let rise: Rise | null = null;
  for (const [i, sample] of samples.entries())
    rise = rise === null ? noticeRise(samples.slice(0, i + 1), habit) : followRise(rise, sample);
  return rise;
}

describe("a rise", () => {
  test("is not noticed in the compressor's own pauses", () => {
    const pause = Array.from({ length: 26 }, (_, i) => 1 + 0.12 * i);
    expect(riseIn(samplesOf(pause))).toBeNull();
  });

  test("is not noticed in a fall, nor in noise of a tenth of a kelvin", () => {
    expect(riseIn(samplesOf([4, 3.7, 3.4, 3.1, 2.8, 2.5]))).toBeNull();
    expect(riseIn(samplesOf([2, 2.1, 2, 2.2, 2.1, 2, 2.1, 2.2]))).toBeNull();
  });

  test("is noticed above the usual top by a slope that is usual below it", () => {
    const habit = { ...HABIT, steepest: 0.5 };
    expect(riseIn(samplesOf([0.5, 1.2, 1.9, 2.6, 3.3]), habit)).toBeNull();
    expect(riseIn(samplesOf([3, 3.7, 4.4, 5.1, 5.8]), habit)!.baseC).toBe(3);
  });

  test("is noticed beyond the usual top where it climbs on slower than a pause's steepest", () => {
    // 0.4 K a minute, in a fridge whose pauses begin as fast and take 3 K in 25 minutes.
    const habit = { ...HABIT, steepest: 0.4 };
    const climb = [3, 3, 3, 3.4, 3.8, 4.2, 4.6];
    expect(riseIn(samplesOf(climb), habit)).toBeNull();
    const rise = riseIn(samplesOf([...climb, 5]), habit)!;
    expect(rise).toMatchObject({ onsetMs: START_MS + 2 * MINUTE_MS, baseC: 3, turned: false });
    // A pause that goes on beyond the top because the compressor is late is none.
    const late = Array.from({ length: 60 }, (_, i) => 1 + 0.12 * i);
    expect(riseIn(samplesOf(late), habit)).toBeNull();
  });

  test("begins at the last sample before the air left its habit", () => {
    const rise = riseIn(samplesOf([2, 1.9, 1.8, 1.7, 3.4, 5]))!;
    expect(rise.onsetMs).toBe(START_MS + 3 * MINUTE_MS);
    expect(rise.baseC).toBe(1.7);
    expect(rise.peakC).toBe(5);
    expect(rise.peakAtMs).toBe(START_MS + 5 * MINUTE_MS);
  });

  test("is noticed by a probe that speaks each ten minutes", () => {
    const rise = riseIn(samplesOf([2, 2.2, 2.1, 9], 10))!;
    expect(rise.onsetMs).toBe(START_MS + 20 * MINUTE_MS);
    expect(rise.peakC).toBe(9);
  });

  test("needs less to be noticed where the air is already above its usual top", () => {
    const small = (baseC: number) => samplesOf([baseC, baseC, baseC, baseC + 0.9]);
    expect(riseIn(small(2))).toBeNull();
    expect(riseIn(small(4.2))).not.toBeNull();
  });

  test("is noticed by a jump of vapour where a cool room warms the air by little", () => {
    const airsC = [2, 2, 2.1, 2.5, 2.6];
    const hpas = [5.1, 5.2, 5.1, 7, 7.2];
    const rise = riseIn(samplesOf(airsC, 1, hpas))!;
    expect(rise).toMatchObject({ damp: true, onsetMs: START_MS + 2 * MINUTE_MS, baseHpa: 5.1 });
    expect(riseIn(samplesOf(airsC))).toBeNull();
    // Frost that a pause of the compressor gives off comes slowly.
    expect(riseIn(samplesOf(airsC, 1, [5.1, 5.2, 5.4, 5.6, 5.7]))).toBeNull();
  });

  test("noticed by vapour is over when the plate has taken half of it back, whatever the air does", () => {
    const airsC = [2, 2, 2.1, 2.5, 2.3, 2, 1.8];
    const open = riseIn(samplesOf(airsC, 1, [5.1, 5.2, 5.1, 7, 7.2, 7, 6.9]))!;
    expect(open.turned).toBe(false);
    const shut = riseIn(samplesOf(airsC, 1, [5.1, 5.2, 5.1, 7, 7.2, 6.4, 6]))!;
    expect(shut.turned).toBe(true);
  });

  test("of a fridge not yet known is noticed when it is a plain one", () => {
    expect(riseIn(samplesOf([2, 2, 4.5]), null)).not.toBeNull();
    expect(riseIn(samplesOf([2, 2.3, 2.7, 3]), null)).toBeNull();
  });

  test("knows its steepest, its early and its present slope", () => {
    const rise = riseIn(samplesOf([2, 4, 6, 7, 7.5, 7.8, 7.9]))!;
    expect(rise.steepest).toBeCloseTo(2, 9);
    // Over the first four minutes 5.5 K, over the last two samples or minutes 0.1 to 0.4 K.
    expect(rise.early).toBeCloseTo(5.5 / 4, 9);
    expect(rise.slope).toBeGreaterThan(0.05);
    expect(rise.slope).toBeLessThan(0.25);
  });
});

describe("a rise has turned", () => {
  // From 2 to 8 °C: an eighth of that, 0.72 K, is a clear fall.
  const UP = [2, 4, 6, 8];

  test("once the air has clearly come down, and not before", () => {
    expect(riseIn(samplesOf([...UP, 7.4]))!.turned).toBe(false);
    expect(riseIn(samplesOf([...UP, 7.2]))!.turned).toBe(true);
  });

  test("never by noise of a third of a kelvin, however small it is", () => {
    expect(riseIn(samplesOf([2, 3.6, 3.3]))!.turned).toBe(false);
    expect(riseIn(samplesOf([2, 3.6, 3.2]))!.turned).toBe(true);
  });

  test("and stays turned, its peak untouched by what comes after", () => {
    const rise = riseIn(samplesOf([...UP, 7, 5, 9]))!;
    expect(rise.turned).toBe(true);
    expect(rise.peakC).toBe(8);
    expect(rise.troughC).toBe(5);
  });
});

describe("air that dipped climbs again", () => {
  const lastOf = (airsC: readonly number[]) => {
    const samples = samplesOf(airsC);
    return climbsAgain(riseIn(samples.slice(0, -1))!, samples[samples.length - 1]!);
  };

  test("when it rises steeply after a plain dip: the door was opened a second time", () => {
    expect(lastOf([2, 5, 7, 6, 5, 7])).toBe(true);
  });

  test.each([
    ["not on its first way up", [2, 5, 7, 8]],
    ["not after a dip of noise", [2, 5, 7, 6.9, 8.4]],
    ["not by a little", [2, 5, 7, 6, 5, 5.5]],
    ["not slowly", [2, 5, 7, 6, 5, 5.2, 5.4, 5.6, 5.8, 6]],
  ])("%s", (_name, airsC) => {
    expect(lastOf(airsC)).toBe(false);
  });
});

describe("vapour", () => {
  test("gained by the kelvin is what the room brings along", () => {
    const rise = riseIn(samplesOf([2, 4, 6], 1, [5, 6, 7]))!;
    expect(mixing(rise)).toBeCloseTo(0.5, 9);
  });

  test("lost is the share of what was gained that is gone again", () => {
    const rise = riseIn(samplesOf([2, 4, 6, 6], 1, [5, 7, 9, 8]))!;
    expect(vapourLost(rise)).toBeCloseTo(0.25, 9);
  });

  test("that was not measured, or hardly gained, says nothing", () => {
    expect(mixing(riseIn(samplesOf([2, 4, 6]))!)).toBeNull();
    expect(vapourLost(riseIn(samplesOf([2, 4, 6]))!)).toBeNull();
    expect(vapourLost(riseIn(samplesOf([2, 4, 6], 1, [5, 5.1, 5.2]))!)).toBeNull();
  });
});

test("the margin above the usual top grows with the swing and is half a kelvin at least", () => {
  expect(marginC(HABIT)).toBeCloseTo(0.6, 9);
  expect(marginC({ ...HABIT, topC: 2 })).toBe(0.5);
});
