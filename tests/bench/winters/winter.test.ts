import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parse as parseCsv } from "csv-parse/sync";
import { parse as parseToml } from "smol-toml";
import { beforeAll, expect, test } from "vitest";
import { makeFridge } from "../../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../../sensors/simulated/named-fridges.js";
import type { Sample } from "../../../sensors/simulated/simulation.js";
import { APART_MS, PLAIN_COURSE } from "./calendar.js";
import { WINTER_START_MS, type Winter } from "./labelled.js";
import { liveWinter } from "./winter.js";
import { writeWinter } from "./write-winter.js";

const DAY_MS = 86_400_000;
const OUTFIT = { intervalMs: 300_000, humidity: true, box: true };
const fridge = makeFridge(NAMED_SKETCHES[0]!);
let winter: Winter;
const samples: Sample[] = [];

beforeAll(() => {
  winter = liveWinter({ fridge, seed: 1, outfit: OUTFIT }, (sample) => samples.push(sample));
}, 120_000);

function truthWithin(fromMs: number, toMs: number): Sample[] {
  return samples.filter((s) => s.reading.takenAtMs >= fromMs && s.reading.takenAtMs <= toMs);
}

test("a winter has the faults of its course, two days apart, none in the first three", () => {
  const count = (kind: string) => winter.labels.filter((l) => l.kind === kind).length;
  expect(count("door-ajar")).toBe(12);
  expect(count("cooling-lost")).toBe(2);
  expect(count("over-cooling")).toBe(1);
  expect(count("probe-mute")).toBe(3);
  expect(winter.labels[0]!.startMs).toBeGreaterThanOrEqual(WINTER_START_MS + 3 * DAY_MS);
  for (let i = 1; i < winter.labels.length; i++)
    expect(winter.labels[i]!.startMs - winter.labels[i - 1]!.endMs).toBeGreaterThanOrEqual(
      APART_MS,
    );
  expect(winter.labels.at(-1)!.endMs).toBeLessThanOrEqual(winter.endMs);
});

test("while a label says the door is ajar it is, and at least ten minutes long", () => {
  for (const label of winter.labels.filter((l) => l.kind === "door-ajar")) {
    expect(label.endMs - label.startMs).toBeGreaterThanOrEqual(600_000);
    expect(label.doorShare).toBeGreaterThanOrEqual(0.15);
    const during = truthWithin(label.startMs + 10_000, label.endMs - 10_000);
    expect(during.length).toBeGreaterThan(2);
    expect(Math.min(...during.map((s) => s.truth.doorShare))).toBeGreaterThanOrEqual(0.15);
  }
});

test("the crossings of a label are where the true cocoons crossed", () => {
  const dead = winter.labels.find((l) => l.kind === "cooling-lost")!;
  const crossMs = dead.cocoonCrosses5AtMs!;
  const before = truthWithin(dead.startMs, crossMs - 1).map((s) => s.truth.cocoonC);
  expect(Math.max(...before)).toBeLessThanOrEqual(5);
  const after = truthWithin(crossMs, crossMs + 900_000).map((s) => s.truth.cocoonC);
  expect(Math.max(...after)).toBeGreaterThan(5);
});

test("a dead compressor's next start was due within a cycle of the fridge's", () => {
  for (const label of winter.labels.filter((l) => l.kind === "cooling-lost")) {
    const afterMin = (label.nextStartDueMs! - label.startMs) / 60_000;
    expect(afterMin).toBeGreaterThan(0);
    expect(afterMin).toBeLessThan(90);
  }
});

test("a muted probe's readings are missing and about a fiftieth of the rest", () => {
  for (const label of winter.labels.filter((l) => l.kind === "probe-mute")) {
    const heard = winter.readings.filter(
      (r) =>
        r.takenAtMs > label.startMs + 10_000 &&
        r.takenAtMs < label.endMs - 10_000 &&
        (label.probeId === null || r.probeId === label.probeId),
    );
    expect(heard).toEqual([]);
  }
  const lost = 1 - winter.readings.length / samples.length;
  expect(lost).toBeGreaterThan(0.015);
  expect(lost).toBeLessThan(0.04);
});

test("the same spec lives the same winter", () => {
  const course = {
    ...PLAIN_COURSE,
    days: 20,
    doorAjar: 1,
    compressorDead: 1,
    overCooling: 0,
    mute: 1,
    longOpenings: 3,
    restocks: 2,
    powerBlips: 1,
    roomHeats: 1,
  };
  const live = (seed: number) => liveWinter({ fridge, seed, outfit: OUTFIT, course });
  const first = live(2);
  const again = live(2);
  expect(again.readings).toEqual(first.readings);
  expect(again.labels).toEqual(first.labels);
  expect(live(3).readings).not.toEqual(first.readings);
}, 60_000);

test("a winter is written as its readings, a config and its labels", () => {
  const folder = mkdtempSync(join(tmpdir(), "drowse-winter-"));
  writeWinter(winter, folder, []);
  const read = (name: string) => readFileSync(join(folder, name), "utf8");
  const rows = parseCsv(read("readings.csv"), { columns: true }) as Record<string, string>[];
  expect(rows).toHaveLength(winter.readings.length);
  const { time, probe, temperature_c, humidity_pct } = rows[1_000]!;
  expect({
    probeId: probe,
    takenAtMs: Date.parse(time!),
    temperatureC: Number(temperature_c),
    humidityPct: Number(humidity_pct),
  }).toEqual(winter.readings[1_000]);
  expect(JSON.parse(read("labels.json"))).toEqual(winter.labels);
  const config = parseToml(read("drowse.toml")) as { probe: { id: string }[] };
  expect(config.probe.map((p) => p.id)).toEqual(["shed-air", "shed-box"]);
});
