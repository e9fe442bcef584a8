import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { gatherCourse } from "../../../daemon/season/gather-course.js";
import { gatherWinter, unseenOf } from "../../../daemon/season/gather-winter.js";
import { openStore, type Store } from "../../../daemon/store/store.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { AUTUMN_MS, keepWinter, QUILLMERE } from "../../quillmere-winter.js";

const CHAMBER = QUILLMERE.chambers[0]!;
const SPAN = { fromMs: AUTUMN_MS, toMs: AUTUMN_MS + 31 * DAY_MS };
let folder: string;
let store: Store;
let nowMs: number;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "drowse-season-"));
  store = openStore(folder, QUILLMERE);
  // The first mishap, a door ajar, is on the thirteenth day.
  nowMs = keepWinter(store, 13.5);
}, 120_000);

afterAll(() => {
  store.close();
  rmSync(folder, { recursive: true, force: true });
});

test("a winter is gathered by the hour from its first reading up to now", () => {
  const winter = gatherWinter(store, QUILLMERE, CHAMBER, SPAN, nowMs);
  expect(winter.watched).toEqual({ fromMs: AUTUMN_MS, toMs: nowMs });
  expect(winter.cocoons).toHaveLength(13.5 * 24);
  expect(winter.isReckoned).toBe(false);
  const raw = [...store.readings.between("cocoons shed", AUTUMN_MS, AUTUMN_MS + HOUR_MS)];
  const mean = raw.reduce((sum, { temperatureC }) => sum + temperatureC!, 0) / raw.length;
  expect(winter.cocoons[0]!.mean).toBeCloseTo(mean, 9);
});

test("the door left ajar is among its excursions, and ordinary openings too", () => {
  const { excursions, openingsMs } = gatherWinter(store, QUILLMERE, CHAMBER, SPAN, nowMs);
  expect(
    excursions.filter(({ urgency }) => urgency === "rush").map(({ cause }) => cause),
  ).toContain("door-ajar");
  expect(openingsMs.length).toBeGreaterThan(30);
});

test("a day shows single readings of the air, a month hours", () => {
  const day = { fromMs: AUTUMN_MS + 12 * DAY_MS, toMs: AUTUMN_MS + 13 * DAY_MS };
  const close = gatherCourse(store, QUILLMERE, CHAMBER, day, nowMs);
  expect(close.air.length).toBeGreaterThan(600);
  expect(close.forecasts.length).toBeGreaterThan(0);
  const far = gatherCourse(store, QUILLMERE, CHAMBER, SPAN, nowMs);
  expect(far.air).toHaveLength(13.5 * 24);
});

test("a probe out of its place is not drawn, from close by or from afar", () => {
  const dayMs = AUTUMN_MS + 3 * DAY_MS;
  const atNoon = { fromMs: dayMs + 12 * HOUR_MS, toMs: dayMs + 13 * HOUR_MS };
  const airAt = (hours: number) => {
    const span = { fromMs: atNoon.fromMs - hours * HOUR_MS, toMs: atNoon.toMs + hours * HOUR_MS };
    const { air } = gatherCourse(store, QUILLMERE, CHAMBER, span, nowMs);
    return air.filter(({ fromMs }) => fromMs >= atNoon.fromMs && fromMs < atNoon.toMs);
  };
  // Single readings, and stretches of two minutes.
  expect([1, 10].map((hours) => airAt(hours).length > 20)).toEqual([true, true]);
  store.checks.beginAbsence({
    probeId: "shed-air",
    fromMs: atNoon.fromMs,
    untilMs: atNoon.toMs,
  });
  expect([1, 10].map((hours) => airAt(hours))).toEqual([[], []]);
});

test("hours without a piece are not seen, the last one included", () => {
  const piece = (fromH: number, toH: number) => ({
    fromMs: fromH * HOUR_MS,
    toMs: toH * HOUR_MS,
    low: 2,
    mean: 2,
    high: 2,
  });
  const course = [piece(0, 1), piece(1, 2), piece(4, 5)];
  expect(unseenOf(course, { fromMs: 0, toMs: 7 * HOUR_MS })).toEqual([
    { fromMs: 2 * HOUR_MS, toMs: 4 * HOUR_MS },
    { fromMs: 5 * HOUR_MS, toMs: 7 * HOUR_MS },
  ]);
});
