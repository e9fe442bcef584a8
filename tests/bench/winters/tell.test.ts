import { expect, test } from "vitest";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";
import type { Winter } from "./labelled.js";
import { type Judge, tellWinter } from "./tell.js";

const MIN = 60_000;

test("a judge gets each reading once, and each minute before the reading that follows it", () => {
  const readings: Reading[] = [0.5, 1.2, 4].map((min) => ({
    probeId: "shed-air",
    takenAtMs: min * MIN,
    temperatureC: 2,
    humidityPct: null,
  }));
  const log: string[] = [];
  const judge: Judge = {
    begin: () => ({}) as ReturnType<Judge["begin"]>,
    step: (state, event) => {
      const atMs = event.kind === "reading" ? event.reading.takenAtMs : event.atMs;
      log.push(`${event.kind} ${atMs / MIN}`);
      const findings = event.kind === "reading" ? [{ atMs } as Finding] : [];
      return { state, findings };
    },
  };
  const { told } = tellWinter({ readings, startMs: 0, endMs: 6 * MIN } as unknown as Winter, judge);
  expect(log).toEqual([
    "tick 0",
    "reading 0.5",
    "tick 1",
    "reading 1.2",
    "tick 2",
    "tick 3",
    "reading 4",
    "tick 4",
    "tick 5",
    "tick 6",
  ]);
  expect(told.map((t) => t.atMs / MIN)).toEqual([0.5, 1.2, 4]);
});
