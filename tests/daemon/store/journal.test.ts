import { join } from "node:path";
import Database from "better-sqlite3";
import { expect, onTestFinished, test } from "vitest";
import { MIGRATIONS } from "../../../daemon/store/migrations.js";
import type { Lot, NewEntry } from "../../../shared/journal.js";
import { commitReadings, openedStore, temporaryFolder, utc } from "./temporary-store.js";

const WRITTEN_MS = utc("2026-01-12T09:00:00Z");

const HEDGE: Lot = {
  id: "hedge",
  species: "osmia-bicornis",
  origin: "Quillmere, the hedge",
  harvestedOn: "2025-10-04",
  large: 80,
  small: 120,
  box: "A1",
  warmDays: 20,
  words: 'said to be "early"',
};

const entry = (changed: Partial<NewEntry> = {}): NewEntry => ({
  atMs: utc("2026-01-11T12:00:00Z"),
  chamberId: "shed",
  lotId: null,
  act: { kind: "damped" },
  words: "",
  corrects: null,
  ...changed,
});

test("what is written is read back whole, with when it was done and when it was written", () => {
  const store = openedStore(temporaryFolder());
  const entries = [
    entry({ words: "three drops; ünd emoji 🐝" }),
    entry({ act: { kind: "inspected", seen: ["mould", "mites"] } }),
    entry({ lotId: "hedge", act: { kind: "moved", toChamberId: null } }),
    entry({
      lotId: "hedge",
      act: { kind: "weighed", label: "A", cocoons: 30, massG: 3.21, scaleG: 0.01 },
    }),
    entry({ chamberId: null, act: { kind: "bloom" }, corrects: 1 }),
  ];
  const numbers = store.journal.write(WRITTEN_MS, () => ({ lots: [HEDGE], entries }));
  expect(numbers).toEqual([1, 2, 3, 4, 5]);
  const written = { writtenAtMs: WRITTEN_MS };
  expect(store.journal.soFar()).toEqual({
    entries: entries.map((e, i) => ({ ...e, ...written, no: i + 1 })),
    lots: [{ ...HEDGE, ...written, no: 1 }],
    nextNo: 6,
  });
});

test("the plan sees all that stands, and when it gives up nothing is added", () => {
  const store = openedStore(temporaryFolder());
  store.journal.write(WRITTEN_MS, () => ({ lots: [], entries: [entry()] }));
  const attempt = () =>
    store.journal.write(WRITTEN_MS, ({ entries, nextNo }) => {
      expect([entries.length, nextNo]).toEqual([1, 2]);
      throw new Error("no such lot");
    });
  expect(attempt).toThrow("no such lot");
  expect(store.journal.newestNo()).toBe(1);
});

test("one bad entry among good ones leaves none of them behind, nor the lots", () => {
  const store = openedStore(temporaryFolder());
  const entries = [entry(), entry({ corrects: 99 })];
  expect(() => store.journal.write(WRITTEN_MS, () => ({ lots: [HEDGE], entries }))).toThrow();
  expect(store.journal.soFar()).toEqual({ entries: [], lots: [], nextNo: 1 });
});

test("a process beside the one that keeps writes too, and is seen at once", () => {
  const folder = temporaryFolder();
  const keeping = openedStore(folder);
  const looking = openedStore(folder, "Europe/London", "look");
  looking.journal.write(WRITTEN_MS, () => ({ lots: [HEDGE], entries: [entry()] }));
  expect(keeping.journal.newestNo()).toBe(1);
  expect(keeping.journal.soFar().lots).toHaveLength(1);
});

test.each([
  ["UPDATE journal SET words = 'other'", /corrected by a later one/],
  ["DELETE FROM journal", /corrected by a later one/],
  ["UPDATE lot SET large_cocoons = 1", /corrected by a later version/],
  ["DELETE FROM lot", /corrected by a later version/],
])("the store itself refuses %s", (sql, why) => {
  const folder = temporaryFolder();
  const store = openedStore(folder);
  store.journal.write(WRITTEN_MS, () => ({ lots: [HEDGE], entries: [entry()] }));
  store.close();
  const db = new Database(join(folder, "drowse.db"));
  onTestFinished(() => void db.close());
  expect(() => db.exec(sql)).toThrow(why);
});

test("a store without a journal gets one and keeps its readings", () => {
  const folder = temporaryFolder();
  const old = new Database(join(folder, "drowse.db"));
  old.exec(MIGRATIONS[0]!);
  old.pragma("application_id = 0x44727773");
  old.pragma("user_version = 1");
  old.exec("INSERT INTO probe VALUES (1, 'shed-air')");
  old.close();
  const store = openedStore(folder);
  expect(store.journal.soFar().entries).toEqual([]);
  const takenAtMs = utc("2026-12-01T08:00:00Z");
  const reading = { probeId: "shed-air", takenAtMs, temperatureC: 2, humidityPct: null };
  commitReadings(store, [reading]);
  expect(store.readings.latest("shed-air")).toEqual(reading);
});
