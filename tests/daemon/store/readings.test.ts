import fc from "fast-check";
import { expect, test } from "vitest";
import type { Reading } from "../../../shared/reading.js";
import { commitReadings, NOTHING, openedStore, temporaryFolder, utc } from "./temporary-store.js";

const START = utc("2026-12-01T08:00:00Z");
const shedAir = (afterMs: number, temperatureC: number | null = 2.5): Reading => ({
  probeId: "shed-air",
  takenAtMs: START + afterMs,
  temperatureC,
  humidityPct: 65.25,
});

test("a reading comes back as it was, to 0.001 °C and 0.01 %", () => {
  const reading = fc.record({
    probeId: fc.constantFrom("shed-air", "shed-box"),
    takenAtMs: fc.integer({ min: utc("2024-01-01T00:00:00Z"), max: utc("2199-12-31T23:59:59Z") }),
    temperatureC: fc.integer({ min: -200_000, max: 200_000 }).map((n) => n / 1_000),
    humidityPct: fc.option(fc.integer({ min: 0, max: 10_000 }).map((n) => n / 100)),
  });
  const selector = ({ probeId, takenAtMs }: Reading) => `${probeId} ${takenAtMs}`;
  fc.assert(
    fc.property(fc.uniqueArray(reading, { minLength: 20, maxLength: 50, selector }), (told) => {
      const store = openedStore(temporaryFolder());
      commitReadings(store, told);
      for (const one of told) {
        const { probeId, takenAtMs } = one;
        expect([...store.readings.between(probeId, takenAtMs, takenAtMs + 1)]).toEqual([one]);
      }
      store.close();
    }),
    { numRuns: 10 },
  );
});

test("the first of two readings of one instant stays", () => {
  const store = openedStore(temporaryFolder());
  commitReadings(store, [shedAir(0, 2), shedAir(0, 9)]);
  commitReadings(store, [shedAir(0, 7)]);
  expect([...store.readings.between("shed-air", 0, Infinity)]).toEqual([shedAir(0, 2)]);
  expect(store.rollups.hours("shed-air", 0, Infinity)[0]?.count).toBe(1);
});

test("all probes come in order of time, the end left out, and over many pages", () => {
  const store = openedStore(temporaryFolder());
  const readings = Array.from({ length: 5_000 }, (_, i) => ({
    ...shedAir(i),
    probeId: i % 3 === 0 ? "shed-box" : "shed-air",
  }));
  commitReadings(store, readings.toReversed());
  expect([...store.readings.allBetween(START, START + 4_999)]).toEqual(readings.slice(0, -1));
  expect([...store.readings.between("shed-box", START + 1, Infinity)]).toEqual(
    readings.filter(({ probeId, takenAtMs }) => probeId === "shed-box" && takenAtMs > START),
  );
  expect(store.readings.count()).toBe(5_000);
});

test("a reader in the midst of its readings does not stop a commit", () => {
  const store = openedStore(temporaryFolder());
  commitReadings(
    store,
    Array.from({ length: 4_001 }, (_, i) => shedAir(i)),
  );
  let seen = 0;
  for (const { takenAtMs } of store.readings.allBetween(0, Infinity)) {
    if (seen++ === 100) commitReadings(store, [shedAir(takenAtMs - START + 10_000)]);
  }
  expect(seen).toBe(4_002);
});

test("the latest is the newest taken, not the last to come", () => {
  const store = openedStore(temporaryFolder());
  expect(store.readings.latest("shed-air")).toBeNull();
  commitReadings(store, [shedAir(90_000), { ...shedAir(0), probeId: "shed-box" }]);
  commitReadings(store, [shedAir(0), { ...shedAir(9_000_000), probeId: "attic" }]);
  expect(store.readings.latest("shed-air")).toEqual(shedAir(90_000));
  expect(store.readings.latest("shed-box")?.takenAtMs).toBe(START);
});

test("pruning forgets raw readings only, and one delivered again is not counted again", () => {
  const store = openedStore(temporaryFolder());
  const old = [shedAir(0), shedAir(60_000)];
  const young = shedAir(3 * 3_600_000);
  commitReadings(store, [...old, young]);
  const { hours, days } = store.rollups;
  const before = [hours("shed-air", 0, Infinity), days("shed-air", 0, Infinity)];
  // Whole hours go: the hour of the limit stays.
  expect(store.prune(START + 59 * 60_000)).toBe(0);
  expect(store.prune(START + 3_600_000)).toBe(2);
  commitReadings(store, old);
  expect([...store.readings.allBetween(0, Infinity)]).toEqual([young]);
  expect([hours("shed-air", 0, Infinity), days("shed-air", 0, Infinity)]).toEqual(before);
});

test("pruning goes on past one transaction's share", () => {
  const store = openedStore(temporaryFolder());
  commitReadings(
    store,
    Array.from({ length: 45_000 }, (_, i) => shedAir(i)),
  );
  commitReadings(store, [shedAir(3_600_000)]);
  expect(store.prune(START + 3_600_000)).toBe(45_000);
  expect(store.readings.count()).toBe(1);
});

test("the hour that is still open is not pruned, whatever is asked for", () => {
  const store = openedStore(temporaryFolder());
  commitReadings(store, [shedAir(0), shedAir(3_600_000)]);
  expect(store.prune(Infinity)).toBe(1);
  commitReadings(store, [shedAir(3_600_001)]);
  expect(store.rollups.hours("shed-air", 0, Infinity).map(({ count }) => count)).toEqual([1, 2]);
});

test("a batch with a reading that is none leaves nothing of itself", () => {
  const store = openedStore(temporaryFolder());
  const broken = { ...shedAir(1), probeId: "new-probe", temperatureC: Number.NaN };
  const batch = { ...NOTHING, readings: [shedAir(0), broken], judge: { state: "{}", atMs: 1 } };
  expect(() => store.commit(batch, [])).toThrow(RangeError);
  expect(store.readings.count()).toBe(0);
  expect(store.judge.load()).toBeNull();
  // The number given to the new probe was rolled back; it must not be remembered either.
  commitReadings(store, [{ ...shedAir(2), probeId: "other" }, shedAir(3)]);
  commitReadings(store, [{ ...shedAir(4), probeId: "new-probe" }]);
  expect([...store.readings.allBetween(0, Infinity)].map(({ probeId }) => probeId)).toEqual([
    "other",
    "shed-air",
    "new-probe",
  ]);
});

test.each([
  ["neither quantity", { temperatureC: null, humidityPct: null }],
  ["an infinite humidity", { humidityPct: Infinity }],
  ["a time before 2024", { takenAtMs: utc("2023-12-31T23:59:59Z") }],
  ["half a millisecond", { takenAtMs: START + 0.5 }],
])("a reading with %s is refused", (_, change) => {
  const store = openedStore(temporaryFolder());
  expect(() => commitReadings(store, [{ ...shedAir(0), ...change }])).toThrow(RangeError);
});

test("the judge's memory is the last one saved", () => {
  const folder = temporaryFolder();
  const store = openedStore(folder);
  expect(store.judge.load()).toBeNull();
  const state = JSON.stringify({ version: 1, note: "3.3 °C", long: "x".repeat(20_000) });
  store.commit({ ...NOTHING, judge: { state: "{}", atMs: START } }, []);
  store.commit({ ...NOTHING, judge: { state, atMs: START + 1 } }, []);
  store.commit({ ...NOTHING, readings: [shedAir(0)] }, []);
  store.close();
  expect(openedStore(folder).judge.load()).toEqual({ state, atMs: START + 1 });
});
