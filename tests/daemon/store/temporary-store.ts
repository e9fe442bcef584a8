import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import type { Batch, Store, StoreMode } from "../../../daemon/store/store.js";
import { openStore } from "../../../daemon/store/store.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";

/** A folder that goes when the test does. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "drowse-store-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A store that closes when the test ends; closing it earlier is no harm. */
export function openedStore(
  folder: string,
  timezone = "Europe/London",
  mode: StoreMode = "keep",
): Store {
  const store = openStore(folder, { timezone }, { mode });
  onTestFinished(() => store.close());
  return store;
}

/** What a disk loses at once. */
const BLOCK_BYTES = 512;

/**
 * Spoil the bytes of a closed store from one share of its length to another, in whole blocks: half a
 * page may look like one whose keys are beyond what is asked for.
 */
export function spoil(file: string, from: number, to: number): void {
  const bytes = readFileSync(file);
  const blockAt = (share: number) => Math.ceil((bytes.length * share) / BLOCK_BYTES) * BLOCK_BYTES;
  bytes.fill(0xa5, blockAt(from), blockAt(to));
  writeFileSync(file, bytes);
}

export const NOTHING: Batch = { readings: [], findings: [], letters: [], judge: null, heard: [] };

/** Commit readings and nothing else. */
export function commitReadings(store: Store, readings: readonly Reading[]): void {
  store.commit({ ...NOTHING, readings }, []);
}

export const utc = (text: string): number => Date.parse(text);

/** A finding that says a door was left ajar at Quillmere; `change` what the test is about. */
export function doorFinding(change: Partial<Finding> = {}): Finding {
  const atMs = change.atMs ?? utc("2026-12-01T08:05:00Z");
  return {
    atMs,
    chamberId: "shed",
    probeId: "shed-air",
    excursionId: "shed-door-1",
    change: "opened",
    cause: "door-ajar",
    urgency: "visit",
    startedAtMs: utc("2026-12-01T08:00:00Z"),
    cocoonC: 2.9,
    airC: 7.25,
    humidityPct: 71.5,
    cocoonSpanC: { low: 2.4, high: 2.9 },
    comparedWith: "the fridge's own habit",
    cost: {
      degreeHoursAbove: 0,
      degreeHoursBelow: 0,
      reserveDays: 0.01,
      wetHours: null,
      mouldIndex: null,
    },
    forecast: null,
    ...change,
  };
}
