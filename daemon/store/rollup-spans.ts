import { MINUTE_MS } from "../../shared/time.js";
import { probeNoOfKey, rowKey, takenAtMsOfKey, timeOfKey } from "./keys.js";
import type { ReadingRow } from "./readings.js";
import type { RollupRow } from "./rollup-table.js";
import { addReading, mergeTallies, type OpenTally, type Tally, tallyOf } from "./tally.js";

/** Finds the first instant of the hour or day that holds an instant. */
export type SpanStart = (atMs: number) => number;

/** First instant of a rollup row, Unix ms. */
export const startOfRow = ({ key }: RollupRow): number => timeOfKey(key) * MINUTE_MS;

/** Readings put together by probe and span. */
export function gatherReadings(rows: Iterable<ReadingRow>, spanStart: SpanStart): RollupRow[] {
  const spans = new Map<number, OpenTally>();
  for (const row of rows) {
    const fromMs = spanStart(takenAtMsOfKey(row.key));
    const key = rowKey(Math.floor(fromMs / MINUTE_MS), probeNoOfKey(row.key));
    const before = spans.get(key);
    if (before === undefined) spans.set(key, tallyOf(row));
    else addReading(before, row);
  }
  return toRows(spans);
}

/** Rollups put together by probe and larger span. */
export function gatherRollups(rows: Iterable<RollupRow>, spanStart: SpanStart): RollupRow[] {
  const spans = new Map<number, Tally>();
  for (const row of rows) addTo(spans, spanStart(startOfRow(row)), probeNoOfKey(row.key), row);
  return toRows(spans);
}

function addTo(spans: Map<number, Tally>, fromMs: number, probeNo: number, tally: Tally): void {
  const key = rowKey(Math.floor(fromMs / MINUTE_MS), probeNo);
  const before = spans.get(key);
  spans.set(key, before ? mergeTallies(before, tally) : tally);
}

function toRows(spans: ReadonlyMap<number, Tally>): RollupRow[] {
  return [...spans].map(([key, tally]) => ({ ...tally, key }));
}
