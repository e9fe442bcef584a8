import fc from "fast-check";
import { expect, test } from "vitest";
import { openStore, type Rollup } from "../../../daemon/store/store.js";
import type { Reading } from "../../../shared/reading.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { commitReadings, openedStore, temporaryFolder, utc } from "./temporary-store.js";

const LONDON = "Europe/London";
const at = (text: string, temperatureC: number | null, humidityPct: number | null): Reading => ({
  probeId: "shed-air",
  takenAtMs: utc(text),
  temperatureC,
  humidityPct,
});

test("an hour and a day hold what their readings say", () => {
  const store = openedStore(temporaryFolder());
  const day = [
    at("2026-12-01T08:00:00Z", 2.1, 65),
    at("2026-12-01T08:59:59.999Z", 2.4, null),
    at("2026-12-01T09:00:00Z", null, 66.25),
  ];
  commitReadings(store, day);
  expect(store.rollups.hours("shed-air", 0, Infinity)).toEqual([
    {
      probeId: "shed-air",
      fromMs: utc("2026-12-01T08:00:00Z"),
      count: 2,
      temperature: { count: 2, meanC: 2.25, lowC: 2.1, highC: 2.4 },
      humidity: { count: 1, meanPct: 65, lowPct: 65, highPct: 65 },
    },
    {
      probeId: "shed-air",
      fromMs: utc("2026-12-01T09:00:00Z"),
      count: 1,
      temperature: null,
      humidity: { count: 1, meanPct: 66.25, lowPct: 66.25, highPct: 66.25 },
    },
  ]);
  const whole = {
    probeId: "shed-air",
    fromMs: utc("2026-12-01T00:00:00Z"),
    count: 3,
    temperature: { count: 2, meanC: 2.25, lowC: 2.1, highC: 2.4 },
    humidity: { count: 2, meanPct: 65.625, lowPct: 65, highPct: 66.25 },
  };
  expect(store.rollups.days("shed-air", 0, Infinity)).toEqual([whole]);
  // The next day's first reading gives this one a row of its own, which says the same.
  commitReadings(store, [at("2026-12-02T00:00:00Z", 2, 65)]);
  expect(store.rollups.days("shed-air", 0, Infinity)[0]).toEqual(whole);
});

test("a late reading goes into a day that is over", () => {
  const store = openedStore(temporaryFolder());
  commitReadings(store, [at("2026-12-01T08:00:00Z", 2, 60), at("2026-12-03T08:00:00Z", 2, 60)]);
  const late = [at("2026-12-01T20:00:00Z", 5, 60), at("2026-12-02T20:00:00Z", 1, 60)];
  commitReadings(store, late);
  commitReadings(store, late);
  const days = store.rollups.days("shed-air", 0, Infinity);
  expect(days.map(({ count, temperature }) => [count, temperature?.meanC])).toEqual([
    [2, 3.5],
    [1, 1],
    [1, 2],
  ]);
});

test("a late reading brings a quantity that its hour had none of", () => {
  const store = openedStore(temporaryFolder());
  commitReadings(store, [
    at("2026-12-01T08:00:00Z", null, 60),
    at("2026-12-01T09:00:00Z", 3, null),
  ]);
  commitReadings(store, [at("2026-12-02T08:00:00Z", 2, 60)]);
  commitReadings(store, [
    at("2026-12-01T08:01:00Z", 4, null),
    at("2026-12-01T09:01:00Z", null, 70),
  ]);
  const hours = store.rollups.hours("shed-air", 0, utc("2026-12-02T00:00:00Z"));
  expect(hours).toMatchObject([
    { count: 2, temperature: { count: 1, lowC: 4, highC: 4 }, humidity: { count: 1, lowPct: 60 } },
    { count: 2, temperature: { count: 1, lowC: 3, highC: 3 }, humidity: { count: 1, lowPct: 70 } },
  ]);
});

test("hours and days are asked for by their beginning, the end left out", () => {
  const store = openedStore(temporaryFolder());
  commitReadings(store, [at("2026-12-01T08:30:00Z", 2, 60), at("2026-12-02T09:30:00Z", 2, 60)]);
  const { hours, days } = store.rollups;
  const eight = utc("2026-12-01T08:00:00Z");
  expect(hours("shed-air", eight, eight + 1)).toHaveLength(1);
  expect(hours("shed-air", eight + 1, eight + HOUR_MS)).toHaveLength(0);
  expect(hours("shed-air", 0, eight)).toHaveLength(0);
  expect(days("shed-air", eight - 8 * HOUR_MS, eight + 16 * HOUR_MS)).toHaveLength(1);
  expect(days("shed-air", eight, eight + DAY_MS)).toHaveLength(1);
  expect(days("nobody", 0, Infinity)).toEqual([]);
});

// Days with a change of the clocks, from the IANA time zone database: London 25 October 2026,
// Lord Howe 5 April 2026 (half an hour), Havana 8 March 2026 (no midnight; from memory).
test.each([
  ["2026-10-23T10:00:00Z", "Europe/London", [24, 25, 24]],
  ["2026-04-02T10:00:00Z", "Australia/Lord_Howe", [24, 24, 24.5]],
  ["2026-12-01T10:00:00Z", "Asia/Kathmandu", [24, 24, 24]],
  ["2026-03-06T10:00:00Z", "America/Havana", [24, 23, 24]],
])("days from %s in %s are as long as the calendar says", (from, timezone, lengths) => {
  const store = openedStore(temporaryFolder(), timezone);
  const startMs = utc(from);
  const readings = Array.from({ length: 5 * 24 * 4 }, (_, i) => ({
    probeId: "shed-air",
    takenAtMs: startMs + i * 15 * MINUTE_MS,
    temperatureC: 2,
    humidityPct: null,
  }));
  commitReadings(store, readings);
  // The day of the first reading began before it and so is left out: it is not whole.
  const days = store.rollups.days("shed-air", startMs, Infinity);
  expect(days.slice(0, 3).map(({ count }) => count / 4)).toEqual(lengths);
});

const probes = ["shed-air", "shed-box", "attic"] as const;
const reading = fc.record({
  probeId: fc.constantFrom(...probes),
  // Four days about the end of summer time in London and Lord Howe's half-hour change.
  takenAtMs: fc.integer({ min: 0, max: 4 * 24 * 4 }).map((quarter) => {
    return utc("2026-10-23T13:00:00Z") + quarter * 15 * MINUTE_MS;
  }),
  temperatureC: fc.option(fc.integer({ min: -40_000, max: 60_000 }).map((n) => n / 1_000)),
  humidityPct: fc.integer({ min: 0, max: 10_000 }).map((n) => n / 100),
});
const stream = fc.uniqueArray(reading, {
  minLength: 1,
  maxLength: 60,
  selector: ({ probeId, takenAtMs }) => `${probeId} ${takenAtMs}`,
});
const timezones = fc.constantFrom("Europe/London", "Australia/Lord_Howe", "Asia/Kolkata", "UTC");

function allRollups(timezone: string, batches: readonly (readonly Reading[])[]) {
  const store = openedStore(temporaryFolder(), timezone);
  for (const batch of batches) commitReadings(store, batch);
  const { hours, days } = store.rollups;
  const read = (probeId: string) => [hours(probeId, 0, Infinity), days(probeId, 0, Infinity)];
  const all = probes.map(read);
  store.close();
  return all;
}

test("any order, grouping and repetition of the same readings gives the same rollups", () => {
  const told = stream.chain((readings) =>
    fc.record({
      readings: fc.constant(readings),
      again: fc.array(fc.constantFrom(...readings), { maxLength: 20 }),
      order: fc.array(fc.nat(), { minLength: 80, maxLength: 80 }),
      group: fc.integer({ min: 3, max: 25 }),
      timezone: timezones,
    }),
  );
  fc.assert(
    fc.property(told, ({ readings, again, order, group, timezone }) => {
      const shuffled = [...readings, ...again]
        .map((reading, i) => ({ reading, place: order[i]! }))
        .sort((a, b) => a.place - b.place)
        .map(({ reading }) => reading);
      const batches = [];
      for (let i = 0; i < shuffled.length; i += group) batches.push(shuffled.slice(i, i + group));
      expect(allRollups(timezone, batches)).toEqual(allRollups(timezone, [readings]));
    }),
    { numRuns: 25 },
  );
});

/** Sum raw readings by a label of the wall clock, the plain way. */
function byLabel(readings: readonly Reading[], label: (atMs: number) => string) {
  const groups = new Map<string, Reading[]>();
  for (const one of readings) {
    const key = label(one.takenAtMs);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()]
    .map((group) => {
      const cold = group.flatMap(({ temperatureC }) => temperatureC ?? []);
      return [group.length, cold.length, Math.min(...cold), Math.max(...cold), mean(cold)];
    })
    .sort();
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + Math.round(value * 1_000), 0) / values.length / 1_000;

const figures = (rollups: readonly Rollup[]) =>
  rollups
    .map(({ count, temperature: t }) =>
      t ? [count, t.count, t.lowC, t.highC, t.meanC] : [count, 0, Infinity, -Infinity, Number.NaN],
    )
    .sort();

test("rollups equal sums over raw readings by the clock on the wall", () => {
  fc.assert(
    fc.property(stream, timezones, (readings, timezone) => {
      const store = openedStore(temporaryFolder(), timezone);
      commitReadings(store, readings);
      // Labels from ICU, an implementation of the zone's rules other than the one under test.
      const wall = new Intl.DateTimeFormat("sv-SE", {
        timeZone: timezone,
        dateStyle: "short",
        timeStyle: "short",
        hourCycle: "h23",
      });
      const offset = new Intl.DateTimeFormat("en", {
        timeZone: timezone,
        timeZoneName: "longOffset",
      });
      const day = (atMs: number) => wall.format(atMs).slice(0, 10);
      const hour = (atMs: number) =>
        `${wall.format(atMs).slice(0, 13)} ${offset.format(atMs).split(", ")[1]}`;
      for (const probeId of probes) {
        const raw = [...store.readings.between(probeId, 0, Infinity)];
        expect(raw).toEqual(
          readings
            .filter((one) => one.probeId === probeId)
            .sort((a, b) => a.takenAtMs - b.takenAtMs),
        );
        const { hours, days } = store.rollups;
        expect(figures(days(probeId, 0, Infinity))).toEqual(byLabel(raw, day));
        expect(figures(hours(probeId, 0, Infinity))).toEqual(byLabel(raw, hour));
      }
      store.close();
    }),
    { numRuns: 25 },
  );
});

test("after a move to another zone, days are those of the new one", () => {
  const readings = Array.from({ length: 6 * 24 * 4 }, (_, i) => ({
    probeId: "shed-air",
    takenAtMs: utc("2026-11-30T00:00:00Z") + i * 15 * MINUTE_MS,
    temperatureC: ((i * 37) % 200) / 10,
    humidityPct: 60,
  }));
  const folder = temporaryFolder();
  for (const timezone of [LONDON, "America/New_York", "Asia/Kolkata", "Asia/Kathmandu", LONDON]) {
    const moved = openedStore(folder, timezone);
    if (moved.readings.count() === 0) commitReadings(moved, readings);
    const born = openedStore(temporaryFolder(), timezone);
    commitReadings(born, readings);
    for (const span of ["hours", "days"] as const)
      expect(moved.rollups[span]("shed-air", 0, Infinity), `${span} in ${timezone}`).toEqual(
        born.rollups[span]("shed-air", 0, Infinity),
      );
    moved.close();
    born.close();
  }
});

test("a look from another zone sums days from hours, and changes nothing stored", () => {
  const folder = temporaryFolder();
  const keep = openedStore(folder, LONDON);
  commitReadings(keep, [at("2026-12-01T23:30:00Z", 2, 60), at("2026-12-03T12:00:00Z", 4, 60)]);
  const here = keep.rollups.days("shed-air", 0, Infinity);
  const look = openedStore(folder, "Europe/Paris", "look");
  expect(look.rollups.days("shed-air", 0, Infinity).map(({ fromMs }) => fromMs)).toEqual([
    utc("2026-12-01T23:00:00Z"),
    utc("2026-12-02T23:00:00Z"),
  ]);
  expect(keep.rollups.days("shed-air", 0, Infinity)).toEqual(here);
});

test("what is older than the raw readings keeps its hours through a move by half an hour", () => {
  const folder = temporaryFolder();
  const keep = openedStore(folder, LONDON);
  commitReadings(keep, [at("2026-12-01T08:10:00Z", 2, 60), at("2026-12-05T08:10:00Z", 4, 60)]);
  keep.prune(utc("2026-12-03T00:00:00Z"));
  keep.close();
  const moved = openedStore(folder, "Asia/Kolkata");
  expect(moved.rollups.hours("shed-air", 0, Infinity).map(({ fromMs }) => fromMs)).toEqual([
    utc("2026-12-01T08:00:00Z"),
    utc("2026-12-05T07:30:00Z"),
  ]);
  expect(moved.rollups.days("shed-air", 0, Infinity).map(({ fromMs }) => fromMs)).toEqual([
    utc("2026-11-30T18:30:00Z"),
    utc("2026-12-04T18:30:00Z"),
  ]);
});

test("stretches of two minutes say what was measured, corrected, without what cannot be", () => {
  const store = openedStore(temporaryFolder());
  const readings = [
    at("2026-12-01T08:00:05Z", 2, 60),
    at("2026-12-01T08:01:59.999Z", 3, null),
    // What a chip holds before its first conversion (Maxim, DS18B20 datasheet).
    at("2026-12-01T08:01:30Z", 85, 0),
    at("2026-12-01T08:02:00Z", 4, 70),
    at("2026-12-01T08:07:00Z", null, 71),
  ];
  commitReadings(store, readings);
  const [from, to] = [utc("2026-12-01T08:00:00Z"), utc("2026-12-01T09:00:00Z")];
  const warmth = ({ temperature: t }: Rollup) => t && [t.count, t.lowC, t.meanC, t.highC];
  const minutes = store.rollups.minutes("shed-air", from, to);
  expect(minutes.map(({ fromMs }) => fromMs)).toEqual(
    [readings[0]!, readings[3]!, readings[4]!].map(({ takenAtMs }) => takenAtMs),
  );
  expect(minutes.map(warmth)).toEqual([[2, 2, 2.5, 3], [1, 4, 4, 4], null]);
  expect(minutes.map(({ count, humidity: h }) => [count, h?.count, h?.meanPct])).toEqual([
    [3, 1, 60],
    [1, 1, 70],
    [1, 1, 71],
  ]);
});

test("a stretch of two minutes that is cut holds nothing of what came after the cut", () => {
  const store = openedStore(temporaryFolder());
  const cutMs = utc("2026-12-01T08:01:00Z");
  const readings = [at("2026-12-01T08:00:05Z", 2, 60), at("2026-12-01T08:01:30Z", 8, 60)];
  commitReadings(store, [...readings, at("2026-12-03T08:00:00Z", 2, 60)]);
  const dayMs = utc("2026-12-01T00:00:00Z");
  expect(store.rollups.minutes("shed-air", dayMs, dayMs + DAY_MS)[0]!.count).toBe(2);
  expect(store.rollups.minutes("shed-air", dayMs, cutMs)[0]!.temperature!.highC).toBe(2);
});

test("what is kept in memory of the past says what a store opened afresh says", () => {
  const folder = temporaryFolder();
  const store = openedStore(folder);
  const startMs = utc("2026-11-01T00:00:00Z");
  fc.assert(
    fc.property(
      fc.array(
        fc.record({
          minute: fc.integer({ min: 0, max: 80 * 24 * 60 }),
          probeId: fc.constantFrom("shed-air", "shed-box"),
          temperatureC: fc.integer({ min: -5, max: 30 }),
        }),
        { minLength: 1, maxLength: 6 },
      ),
      fc.integer({ min: 0, max: 70 }),
      (some, day) => {
        const readings = some.map(({ minute, ...rest }) => ({
          ...rest,
          takenAtMs: startMs + minute * MINUTE_MS,
          humidityPct: 65,
        }));
        commitReadings(store, readings);
        const [from, to] = [startMs + day * DAY_MS, startMs + (day + 9) * DAY_MS];
        const fresh = openStore(folder, { timezone: LONDON }, { mode: "look" });
        for (const id of ["shed-air", "shed-box"])
          for (const kind of ["hours", "minutes"] as const)
            expect(store.rollups[kind](id, from, to)).toEqual(fresh.rollups[kind](id, from, to));
        fresh.close();
      },
    ),
    { numRuns: 150, seed: 5_01 },
  );
});

test("what another process takes in is seen where the past was kept in memory", () => {
  const folder = temporaryFolder();
  const keep = openedStore(folder);
  commitReadings(keep, [at("2026-10-01T08:00:00Z", 2, 60), at("2026-12-03T08:00:00Z", 2, 60)]);
  const look = openedStore(folder, LONDON, "look");
  const [from, to] = [utc("2026-09-30T00:00:00Z"), utc("2026-10-02T00:00:00Z")];
  const hour = () => look.rollups.hours("shed-air", from, to)[0]!.count;
  expect(hour()).toBe(1);
  commitReadings(keep, [at("2026-10-01T08:30:00Z", 5, 60)]);
  expect(hour()).toBe(2);
});
