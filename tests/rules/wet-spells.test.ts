import { describe, expect, test } from "vitest";
import type { AirNews } from "../../rules/air-watch.js";
import { seasonOf } from "../../rules/season.js";
import { NEVER_WET, noteStirs, stepWetSpells, type WetSpells } from "../../rules/wet-spells.js";
import { makeFridge } from "../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../sensors/simulated/named-fridges.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { readingsOf, type Told } from "./damp-course.js";
import { asReading, dayMs, judge, liveCourse, START_MS, siteOf } from "./quillmere.js";

const SLOT = 5;
const at = (minute: number) => START_MS + minute * MINUTE_MS;
const over = (cause: "opening" | "defrost", from: number, until: number): AirNews => {
  return { kind: "over", cause, sinceMs: at(from), untilMs: at(until) };
};

/** Slots of five minutes with so much water on the cocoons at their ends, g/m². */
function wetted(films: readonly number[], before: WetSpells = NEVER_WET): WetSpells {
  return films.reduce((spells, filmGPerM2, i) => {
    const wetMs = filmGPerM2 > 0 ? SLOT * MINUTE_MS : 0;
    return stepWetSpells(spells, { surface: "cocoons", wetMs, filmGPerM2 }, at((i + 1) * SLOT));
  }, before);
}
const minutes = ({ spells }: WetSpells) =>
  spells.map(({ fromMs, toMs, wetMs }) =>
    [fromMs - START_MS, toMs - START_MS, wetMs].map((ms) => ms / MINUTE_MS),
  );

describe("a spell", () => {
  test("lasts from the first water to the last, with its thickest film", () => {
    const spells = wetted([0, 2, 5, 3, 0]);
    expect(minutes(spells)).toEqual([[5, 20, 15]]);
    expect(spells.spells[0]).toMatchObject({ surface: "cocoons", mostGPerM2: 5, after: null });
  });

  test("goes on over a break of less than half an hour, which does not count as wet", () => {
    const dry = (slots: number) => Array.from({ length: slots }, () => 0);
    expect(minutes(wetted([1, ...dry(4), 1]))).toEqual([[0, 30, 10]]);
    expect(minutes(wetted([1, ...dry(5), 1]))).toEqual([
      [0, 5, 5],
      [30, 35, 5],
    ]);
  });

  test("of one surface is none of another", () => {
    const both = stepWetSpells(
      wetted([1]),
      { surface: "wall", wetMs: MINUTE_MS, filmGPerM2: 9 },
      at(SLOT),
    );
    expect(both.spells.map(({ surface, mostGPerM2 }) => [surface, mostGPerM2])).toEqual([
      ["cocoons", 1],
      ["wall", 9],
    ]);
  });

  test("is kept with the seven before it", () => {
    const hourly = Array.from({ length: 12 * 12 }, (_, slot) => (slot % 12 === 0 ? slot + 1 : 0));
    const films = wetted(hourly).spells.map(({ mostGPerM2 }) => mostGPerM2);
    expect(films).toEqual([49, 61, 73, 85, 97, 109, 121, 133]);
  });
});

describe("what came before a spell", () => {
  const after = (news: AirNews, films: readonly number[]) =>
    wetted(films, noteStirs(NEVER_WET, [news])).spells[0]?.after;

  test("is what stirred the air up to an hour before it began, or a slot after", () => {
    const late = (slots: number) => [...Array.from({ length: slots }, () => 0), 1];
    expect(after(over("defrost", -20, 0), late(12))).toBe("defrost");
    expect(after(over("defrost", -20, 0), late(13))).toBeNull();
    expect(after(over("opening", 5, 8), [1])).toBe("opening");
    expect(after(over("opening", 6, 8), [1])).toBeNull();
  });

  test("is known later too, for an opening is told when it is over", () => {
    const wet = wetted([1, 1]);
    expect(wet.spells[0]!.after).toBeNull();
    const told = noteStirs(wet, [over("opening", 1, 9)]);
    const dry = { surface: "cocoons", wetMs: 0, filmGPerM2: 0 } as const;
    expect(stepWetSpells(told, dry, at(3 * SLOT)).spells[0]!.after).toBe("opening");
    expect(stepWetSpells(told, dry, at(3 * SLOT)).spells).toHaveLength(1);
  });

  test("is never a compressor that is lost, and nothing that is only told", () => {
    const lost: AirNews = { kind: "over", cause: "cooling-lost", sinceMs: at(0), untilMs: at(9) };
    const told: AirNews = { kind: "told", cause: "door-ajar", sinceMs: at(0) };
    expect(noteStirs(NEVER_WET, [lost, told])).toBe(NEVER_WET);
  });
});

describe("in a judgement", () => {
  const site = siteOf([
    ["shed-air", "air"],
    ["shed-box", "box"],
    ["wall", "wall"],
  ]);
  const spellsOf = (airPct: number, boxPct: Told["pct"], wallC: Told["c"]) => {
    const probes: readonly Told[] = [
      { id: "shed-air", place: "air", c: 3, pct: airPct },
      { id: "shed-box", place: "box", c: 3, pct: boxPct },
      { id: "wall", place: "wall", c: wallC, pct: null },
    ];
    const { state } = judge(readingsOf(24, probes).map(asReading), site);
    return seasonOf(state, site)[0]!.wetSpells;
  };
  const between = (hour: number, from: number, to: number) => hour >= from && hour < to;

  test("cocoons are wet while a box says so", () => {
    const [spell, ...others] = spellsOf(80, (h) => (between(h, 5, 7) ? 99 : 70), 2);
    expect(others).toEqual([]);
    expect(spell).toMatchObject({ surface: "cocoons", mostGPerM2: 0, after: null });
    expect((spell!.fromMs - START_MS) / HOUR_MS).toBeCloseTo(5, 0);
    expect(spell!.wetMs / HOUR_MS).toBeCloseTo(2, 0);
  });

  test("a wall is wet below the dew point of the air, and frost on it is none", () => {
    // Air of 3 °C and 95 % has its dew point at 2.3 °C (WMO-No. 8, Annex 4.B).
    const [spell, ...others] = spellsOf(95, 70, (h) => (between(h, 10, 11) ? 1.2 : 4));
    expect(others).toEqual([]);
    expect(spell!.surface).toBe("wall");
    expect((spell!.fromMs - START_MS) / HOUR_MS).toBeCloseTo(10, 0);
    expect(spell!.mostGPerM2).toBeGreaterThan(0);
    expect(spellsOf(95, 70, 2.5)).toEqual([]);
    expect(spellsOf(95, 70, -3)).toEqual([]);
  });

  test("a wall that a door left open made wet says so", () => {
    const startMs = dayMs(3) + 2 * HOUR_MS;
    const door = { kind: "door", share: 0.9, startMs, endMs: startMs + HOUR_MS } as const;
    const scullery = makeFridge(NAMED_SKETCHES.find(({ name }) => name === "humid scullery")!);
    const course = liveCourse({ days: 4, seed: 3, fridge: scullery, script: [door] });
    const airs = course.readings.filter(({ probeId }) => probeId === "shed-air");
    // A wall warmer than the dew point of this fridge's air, and colder than that of the room's.
    const walled = airs.flatMap((reading, i) => [
      reading,
      { ...reading, probeId: "wall", temperatureC: 4 + (i % 2) / 100, humidityPct: null },
    ]);
    const { wetSpells } = seasonOf(judge(walled.map(asReading), site).state, site)[0]!;
    const spell = wetSpells.find(({ fromMs }) => fromMs >= startMs - HOUR_MS);
    expect(spell).toMatchObject({ surface: "wall", after: "door-ajar" });
    expect(spell!.mostGPerM2).toBeGreaterThan(1);
  });
});
