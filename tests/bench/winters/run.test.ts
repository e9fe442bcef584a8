import { expect, test } from "vitest";
import type { Label } from "./label.js";
import type { Winter } from "./labelled.js";
import { benchWinters } from "./run.js";
import { shedSite } from "./shed-site.js";
import type { Source } from "./source.js";
import type { Judge } from "./tell.js";
import { WaterTruth } from "./water.js";

const MIN = 60_000;
const LABEL = { kind: "door-ajar", startMs: 60 * MIN, endMs: 90 * MIN, airRiseK: 5 } as Label;
const JUDGE: Judge = {
  begin: () => ({}) as ReturnType<Judge["begin"]>,
  step: (state) => ({ state, findings: [] }),
};

/** Two hours at 10 °C from the door's opening on: the plain rule tells it after ten minutes. */
const winterOf = (fridgeName: string, seed: number): Winter => ({
  fridgeName,
  seed,
  humidity: false,
  site: shedSite(["shed-air"], MIN),
  startMs: 0,
  endMs: 180 * MIN,
  readings: Array.from({ length: 180 }, (_, i) => ({
    probeId: "shed-air",
    takenAtMs: i * MIN,
    temperatureC: i < 60 ? 2 : 10,
    humidityPct: null,
  })),
  labels: [LABEL],
});

function bench(water: WaterTruth | null) {
  const lines: string[] = [];
  const kept: string[] = [];
  const source: Source = ["one", "two"].map((name) => ({
    name,
    winters: [1, 2].map((seed) => () => ({ winter: winterOf(name, seed), water })),
  }));
  const result = benchWinters({
    source,
    intervalMs: MIN,
    humidity: false,
    judge: JUDGE,
    print: (line) => lines.push(line),
    keep: ({ fridgeName, seed }) => kept.push(`${fridgeName} ${seed}`),
  });
  return { lines, kept, result };
}

test("each winter of a source is judged once, with two rows a fridge and two for all", () => {
  const { lines, kept, result } = bench(null);
  expect(kept).toEqual(["one 1", "one 2", "two 1", "two 2"]);
  const judges = lines
    .slice(1)
    .map((line) => [line.slice(0, 18).trim(), line.slice(18, 25).trim()]);
  expect(judges).toEqual([
    ["one", "drowse"],
    ["", "plain"],
    ["two", "drowse"],
    ["", "plain"],
    ["all", "drowse"],
    ["", "plain"],
  ]);
  expect(result.drowse.kinds["door-ajar"]).toMatchObject({ events: 4, told: 0 });
  expect(result.plain.kinds["door-ajar"]).toMatchObject({ events: 4, told: 4, inTime: 4 });
});

test("the row of water is there only where the truth of water is known", () => {
  const known = bench(new WaterTruth()).lines;
  expect(known.at(-1)).toMatch(/^letters of water in 4 winter\(s\)/);
  expect(bench(null).lines).toEqual(known.slice(0, -1));
});
