import { describe, expect, test } from "vitest";
import {
  comparePartings,
  forgetPartings,
  type Parting,
  partedK,
} from "../../../rules/health/drift.js";
import { beginHealth, type ProbeHealth } from "../../../rules/health/health.js";
import { adoptHealths } from "../../../rules/health/sieve.js";
import { draw, seeded } from "../../../sensors/simulated/seeded.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Place, Site } from "../../../shared/site.js";
import { DAY_MS } from "../../../shared/time.js";
import { asReading, dayMs, judge, liveCourse, siteOf } from "../quillmere.js";

const FIRST_DAY = 20_400;

/** Daily means of two probes, the other one above by what `apartK` says of each day. */
function live(
  site: Site,
  days: number,
  apartK: (day: number) => number,
  between: (partings: readonly Parting[], day: number) => readonly Parting[] = (known) => known,
) {
  const health = (probeId: string, wholeDay: number, meanC: number): ProbeHealth => ({
    ...beginHealth(probeId),
    wholeDay,
    meanC,
  });
  let partings: readonly Parting[] = [];
  const findings: Finding[] = [];
  for (let i = 0; i < days; i++) {
    const [one, other] = site.probes;
    const healths = [
      health(one!.id, FIRST_DAY + i, 2),
      health(other!.id, FIRST_DAY + i, 2 + apartK(i)),
    ];
    const atMs = (FIRST_DAY + i + 1) * DAY_MS;
    const step = comparePartings(between(partings, i), healths, atMs, site, []);
    partings = step.partings;
    findings.push(...step.findings);
  }
  return { partings, said: findings.map((f) => `${f.change} ${f.urgency}`), findings };
}

const pair = (one: Place, other: Place): Site =>
  siteOf([
    ["one", one],
    ["other", other],
  ]);
/** Noise of ± 0.1 K, the same each time. */
const noise = (seed: number) => {
  const random = seeded(seed, "drift");
  return Array.from({ length: 120 }, () => 0.2 * draw(random) - 0.1);
};

describe("two probes of one chamber", () => {
  test("that lie apart by a constant have not parted, whatever their noise", () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const jitter = noise(seed);
      expect(live(pair("air", "air"), 120, (day) => 1.3 + jitter[day]!).said).toEqual([]);
    }
  });

  test("are told once they have surely parted by half a kelvin, by a whole one for a visit", () => {
    const jitter = noise(6);
    const { findings } = live(pair("air", "air"), 60, (day) => 0.03 * day + jitter[day]!);
    const days = findings.map(({ atMs }) => atMs / DAY_MS - FIRST_DAY);
    expect(findings.map((f) => `${f.change} ${f.urgency}`)).toEqual([
      "opened note",
      "raised visit",
    ]);
    // 0.03 K a day are 0.5 K after 17 days, and the span takes some more to be sure.
    expect(days[0]).toBeGreaterThanOrEqual(17);
    expect(days[0]).toBeLessThan(26);
    expect(findings[0]!.comparedWith).toMatch(
      /^one, from which it parted by 0\.5 to \d\.\d K in \d+ days/,
    );
  });

  test("one in the air and one in a box are given twice as much", () => {
    const jitter = noise(6);
    const slowly = (day: number) => 0.015 * day + jitter[day]!;
    expect(live(pair("air", "air"), 55, slowly).said).toEqual(["opened note"]);
    expect(live(pair("air", "box"), 55, slowly).said).toEqual([]);
  });

  test("downwards is parting too", () => {
    expect(live(pair("box", "box"), 30, (day) => -0.03 * day).said[0]).toBe("opened note");
  });

  test("are compared anew once one of them was checked, and what was told of them is over", () => {
    const { partings } = live(pair("air", "air"), 30, (day) => 0.05 * day);
    expect(partedK(partings[0]!)).not.toBeNull();
    expect(partedK(forgetPartings(partings, "other")[0]!)).toBeNull();
    expect(forgetPartings(partings, "elsewhere")).toEqual(partings);
    const anew = live(
      pair("air", "air"),
      31,
      (day) => 0.05 * day,
      (known, day) => (day === 30 ? forgetPartings(known, "other") : known),
    );
    expect(anew.said).toEqual(["opened note", "raised visit", "ended visit"]);
  });

  test("a parting is over once the config has one of them no more", () => {
    const before = live(pair("air", "air"), 30, (day) => 0.05 * day);
    const site = siteOf([["other", "air"]]);
    const health = { probes: [], partings: before.partings };
    const { partings } = adoptHealths(health, site);
    const left = comparePartings(partings, [beginHealth("other")], 31 * DAY_MS, site, []);
    expect(left.partings).toEqual([]);
    expect(left.findings.map((f) => `${f.change} ${f.excursionId}`)).toEqual([
      `ended ${before.findings[0]!.excursionId}`,
    ]);
  });

  test("a wall or a room is not compared", () => {
    expect(live(pair("air", "wall"), 60, (day) => day).partings).toEqual([]);
  });
});

test("the span is the brute one: the median slope's ranks of all pairs of days", () => {
  const jitter = noise(8);
  const days = Array.from({ length: 20 }, (_, i) => i);
  const apartK = days.map((day) => 0.04 * day + jitter[day]!);
  const slopes = days
    .flatMap((i) => days.slice(i + 1).map((j) => (apartK[j]! - apartK[i]!) / (j - i)))
    .sort((a, b) => a - b);
  // Gilbert (1987), 16.4.3: the ranks are (N ∓ 1.96·√V)/2, V = n(n−1)(2n+5)/18 without ties.
  const reach = 1.959964 * Math.sqrt((20 * 19 * 45) / 18);
  const rank = (r: number) => {
    const below = Math.floor(r) - 1;
    return slopes[below]! + (r - 1 - below) * (slopes[below + 1]! - slopes[below]!);
  };
  const parted = partedK({ days, apartK })!;
  expect(parted.low).toBeCloseTo(19 * rank((slopes.length - reach) / 2), 9);
  expect(parted.high).toBeCloseTo(19 * rank((slopes.length + reach) / 2 + 1), 9);
});

test("a box probe that creeps away from the air is told, and a sound month is not", () => {
  const course = liveCourse({ days: 34, seed: 9 });
  const creeping = course.readings.map((r) =>
    r.probeId === "shed-box"
      ? { ...r, temperatureC: r.temperatureC! + 0.06 * ((r.takenAtMs - dayMs(0)) / DAY_MS) }
      : r,
  );
  const drift = (readings: typeof creeping) =>
    judge(readings.map(asReading), course.site).findings.filter((f) => f.cause === "probe-drift");
  expect(drift([...course.readings])).toEqual([]);
  expect(drift(creeping)[0]).toMatchObject({ change: "opened", probeId: "shed-box" });
});
