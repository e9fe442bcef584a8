import { join } from "node:path";
import Database from "better-sqlite3";
import { describe, expect, test } from "vitest";
import type { Revision, Store } from "../../../daemon/store/store.js";
import type { Reading } from "../../../shared/reading.js";
import { madeCheck } from "../checks/made-checks.js";
import {
  commitReadings,
  doorFinding,
  NOTHING,
  openedStore,
  temporaryFolder,
  utc,
} from "./temporary-store.js";

const at = (text: string, temperatureC: number, humidityPct: number | null = null): Reading => ({
  probeId: "shed-air",
  takenAtMs: utc(text),
  temperatureC,
  humidityPct,
});

/** Take in all checks there are, and nothing else that could follow from them. */
function takeIn(store: Store, fromText: string, change: Partial<Revision> = {}): void {
  const revision: Revision = {
    entryNo: store.checks.newestNo(),
    shifts: [{ probeId: "shed-air", quantity: "temperature", fromMs: utc(fromText) }],
    series: [],
    before: [],
    after: [],
    judge: { state: "{}", atMs: 0 },
    letters: [],
    ...change,
  };
  store.revise(revision, []);
}

const meansOf = (store: Store) => ({
  hours: store.rollups.hours("shed-air", 0, Infinity).map(({ temperature: t }) => t?.meanC),
  days: store.rollups.days("shed-air", 0, Infinity).map(({ temperature: t }) => t?.meanC),
});

describe("the history of checks", () => {
  test("is kept across starts, and an entry of the same id changes nothing", () => {
    const folder = temporaryFolder();
    const store = openedStore(folder);
    const check = madeCheck(0.5);
    store.checks.add(check);
    store.checks.add({ ...check, note: "another word" });
    store.close();
    expect(openedStore(folder).checks.entries()).toEqual([check]);
  });

  test("can be neither edited nor shortened, not even by hand", () => {
    const folder = temporaryFolder();
    const store = openedStore(folder);
    store.checks.add(madeCheck(0.5));
    store.close();
    const db = new Database(join(folder, "drowse.db"));
    expect(() => db.exec("UPDATE check_entry SET entry = '{}'")).toThrow("never edited");
    expect(() => db.exec("DELETE FROM check_entry")).toThrow("never forgotten");
    db.close();
  });

  test("takes an entry from a process that only looks", () => {
    const folder = temporaryFolder();
    const store = openedStore(folder);
    openedStore(folder, "Europe/London", "look").checks.add(madeCheck(0.5));
    expect(store.checks.newestNo()).toBe(1);
    expect(store.checks.takenNo()).toBe(0);
  });
});

describe("hours and days", () => {
  const DAYS = [
    at("2026-12-01T08:00:00Z", 2),
    at("2026-12-01T09:00:00Z", 3),
    at("2026-12-02T08:00:00Z", 4),
    at("2026-12-03T08:00:00Z", 5),
  ];

  test("are made anew from the date that a check holds from, and raw readings stay", () => {
    const store = openedStore(temporaryFolder());
    commitReadings(store, DAYS);
    store.checks.add(madeCheck(0.5, { holdsFromMs: utc("2026-12-01T09:00:00Z") }));
    expect(meansOf(store).days).toEqual([2.5, 4, 5]);
    takeIn(store, "2026-12-01T09:00:00Z");
    expect(meansOf(store)).toEqual({ hours: [2, 2.5, 3.5, 4.5], days: [2.25, 3.5, 4.5] });
    expect([...store.readings.between("shed-air", 0, Infinity)]).toEqual(DAYS);
  });

  test("of readings that come later are corrected when they close, late ones too", () => {
    const store = openedStore(temporaryFolder());
    store.checks.add(madeCheck(0.5, { holdsFromMs: utc("2026-12-01T00:00:00Z") }));
    takeIn(store, "2026-12-01T00:00:00Z");
    commitReadings(store, DAYS);
    commitReadings(store, [at("2026-12-01T08:30:00Z", 4)]);
    expect(meansOf(store).hours).toEqual([2.5, 2.5, 3.5, 4.5]);
    expect(meansOf(store).days[0]).toBeCloseTo(2.5, 9);
  });

  test("of another probe are left alone", () => {
    const store = openedStore(temporaryFolder());
    commitReadings(store, [...DAYS, { ...DAYS[0]!, probeId: "shed-box" }]);
    store.checks.add(madeCheck(0.5, { holdsFromMs: 0 }));
    takeIn(store, "2026-12-01T00:00:00Z");
    expect(store.rollups.hours("shed-box", 0, Infinity)[0]?.temperature?.meanC).toBe(2);
  });

  test("whose raw readings are forgotten stay as they were", () => {
    const store = openedStore(temporaryFolder());
    commitReadings(store, DAYS);
    store.prune(utc("2026-12-02T00:00:00Z"));
    store.checks.add(madeCheck(0.5, { holdsFromMs: 0 }));
    takeIn(store, "2026-11-01T00:00:00Z");
    expect(meansOf(store)).toEqual({ hours: [2, 3, 3.5, 4.5], days: [2.5, 3.5, 4.5] });
  });

  test("leave out what cannot have been measured and what was said out of place, not the hearing", () => {
    const store = openedStore(temporaryFolder());
    // 85 °C and −127 °C: DS18B20 after power-on, and with its bus lost; see fault-value.test.ts.
    commitReadings(store, [
      at("2026-12-01T08:00:00Z", 2, 60),
      at("2026-12-01T08:10:00Z", 85, -6),
      at("2026-12-01T08:20:00Z", -127, 60),
    ]);
    const fromMs = utc("2026-12-01T08:30:00Z");
    const no = store.checks.beginAbsence({ probeId: "shed-air", fromMs, untilMs: fromMs + 1 });
    store.checks.extendAbsence(no, fromMs + 600_000);
    commitReadings(store, [
      at("2026-12-01T08:35:00Z", 0, 99),
      at("2026-12-01T08:40:00Z", 4, 62),
      at("2026-12-01T10:00:00Z", 2, 60),
    ]);
    expect(store.rollups.hours("shed-air", 0, Infinity)[0]).toMatchObject({
      count: 5,
      temperature: { count: 2, meanC: 3, lowC: 2, highC: 4 },
      humidity: { count: 3, lowPct: 60, highPct: 62 },
    });
  });
});

test("excursions judged anew take the place of the old, which are kept aside", () => {
  const folder = temporaryFolder();
  const store = openedStore(folder);
  const old = doorFinding();
  const wrong = doorFinding({ excursionId: "shed-chill-1" });
  store.commit({ ...NOTHING, findings: [old, wrong] }, []);
  store.excursions.acknowledge("shed-door-1", 7);
  const anew = doorFinding({ cocoonC: 2.4 });
  const another = doorFinding({ excursionId: "shed-heat-9" });
  store.checks.add(madeCheck(0.5));
  takeIn(store, "2026-12-01T00:00:00Z", {
    before: ["shed-door-1", "shed-chill-1"],
    after: [anew, another],
  });
  expect(store.excursions.open().map(({ id }) => id)).toEqual(["shed-door-1", "shed-heat-9"]);
  expect(store.excursions.get("shed-door-1")).toMatchObject({
    acknowledgedAtMs: 7,
    latest: { cocoonC: 2.4 },
  });
  store.close();
  const db = new Database(join(folder, "drowse.db"), { readonly: true });
  const kept = db.prepare("SELECT excursion_id AS id, findings FROM revised").all() as {
    id: string;
    findings: string;
  }[];
  db.close();
  expect(kept.map(({ id, findings }) => [id, JSON.parse(findings)])).toEqual([
    ["shed-door-1", [old]],
    ["shed-chill-1", [wrong]],
  ]);
});

test("a series that is reckoned holds its new values from the date on, its days too", () => {
  const store = openedStore(temporaryFolder());
  const series = (text: string, temperatureC: number) => ({
    ...at(text, temperatureC),
    probeId: "cocoons shed",
  });
  const days = ["2026-12-01T08:00:00Z", "2026-12-02T08:00:00Z", "2026-12-03T08:00:00Z"];
  commitReadings(
    store,
    days.map((text) => series(text, 2)),
  );
  const anew = days.slice(1).map((text) => series(text, 3));
  const fromMs = utc("2026-12-02T00:00:00Z");
  takeIn(store, "2026-12-02T00:00:00Z", {
    series: [{ probeId: "cocoons shed", fromMs, values: anew }],
  });
  const kept = [...store.readings.between("cocoons shed", 0, Infinity)];
  expect(kept.map(({ temperatureC }) => temperatureC)).toEqual([2, 3, 3]);
  const means = store.rollups.days("cocoons shed", 0, Infinity).map((d) => d.temperature?.meanC);
  expect(means).toEqual([2, 3, 3]);
});

test("only the process that keeps takes checks in", () => {
  const folder = temporaryFolder();
  openedStore(folder);
  const looking = openedStore(folder, "Europe/London", "look");
  expect(() => takeIn(looking, "2026-12-02T00:00:00Z")).toThrow(TypeError);
});
