import { expect, test } from "vitest";
import { keptWinters, winterAt } from "../../../daemon/season/winters.js";
import type { Reading } from "../../../shared/reading.js";
import { QUILLMERE } from "../../quillmere-winter.js";
import { commitReadings, openedStore, temporaryFolder, utc } from "../store/temporary-store.js";

test("a winter goes from midsummer to midsummer of the site, on the site's clocks", () => {
  // The EU's summer time, Directive 2000/84/EC: 1 July begins at 22:00 UTC of the day before.
  expect(winterAt(utc("2026-06-30T21:59:59Z"), "Europe/Berlin").year).toBe(2025);
  expect(winterAt(utc("2026-06-30T22:00:00Z"), "Europe/Berlin")).toEqual({
    year: 2026,
    fromMs: utc("2026-06-30T22:00:00Z"),
    toMs: utc("2027-06-30T22:00:00Z"),
  });
});

test("where clocks go forward for January, a winter does not end in July", () => {
  // Australian Capital Territory: UTC+11 in January, UTC+10 in July (IANA tz database).
  expect(winterAt(utc("2026-07-01T12:00:00Z"), "Australia/Canberra")).toEqual({
    year: 2026,
    fromMs: utc("2025-12-31T13:00:00Z"),
    toMs: utc("2026-12-31T13:00:00Z"),
  });
});

test("the winters kept are those with readings, each from its first day to its last", () => {
  const store = openedStore(temporaryFolder());
  const at = (probeId: string, when: string): Reading => ({
    probeId,
    takenAtMs: utc(when),
    temperatureC: 2,
    humidityPct: null,
  });
  commitReadings(store, [
    at("shed-air", "2025-11-03T09:00:00Z"),
    at("shed-box", "2025-11-02T09:00:00Z"),
    at("shed-air", "2026-02-20T23:30:00Z"),
    at("shed-air", "2026-10-05T12:00:00Z"),
    at("elsewhere", "2024-10-05T12:00:00Z"),
  ]);
  expect(keptWinters(store, QUILLMERE, QUILLMERE.chambers[0]!)).toEqual([
    { year: 2025, fromMs: utc("2025-11-02T00:00:00Z"), toMs: utc("2026-02-21T00:00:00Z") },
    { year: 2026, fromMs: utc("2026-10-04T23:00:00Z"), toMs: utc("2026-10-05T23:00:00Z") },
  ]);
});
