import { closeSync, existsSync, fsyncSync, openSync, readFileSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import { REMEMBER_EVERY_MS } from "../../../daemon/intake/commit-loop.js";
import { type Heard, openStore } from "../../../daemon/store/store.js";
import { beginJudge, stepJudge } from "../../../rules/judge.js";
import { draw, seeded } from "../../../sensors/simulated/seeded.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";
import { inFolder, PROBES, SITE, START_MS } from "./bench-folder.js";

/** What the project has set itself, for bytes passed to write calls. */
const LIMIT_BYTES = 150;

/** What this process has written so far, as Linux counts it (man 5 proc). */
const COUNTERS = "/proc/self/io";

/** A compressor that starts every 40 minutes, in beats of 10 s. */
const CYCLE_BEATS = 240;

type Cost = Readonly<{ calls: number; device: number; index: number; rowBytes: number }>;

/** Print what the store writes for each reading, by the size of the groups. */
export function benchBytes(): void {
  if (!existsSync(COUNTERS)) {
    console.log(`store: bytes written not measured, for want of ${COUNTERS} (Linux)`);
    return;
  }
  console.log("store: bytes written a reading, 6 probes each 10 s, checkpoints included");
  console.log("  calls   passed to write calls");
  console.log("  device  of 4 KiB file blocks made dirty and synced");
  console.log("  +index  the same, with the log's index (-shm) written back after each commit,");
  console.log("          as a kernel does by itself about every 30 s; no commit waits for it");
  console.log("group                  calls  device  +index  row by row ×");
  const single = measureBytes(1, 1);
  printBytes("1 reading (baseline)", single, single);
  for (const group of [32, 64, 128]) {
    const seconds = Math.round((group * 10) / PROBES.length);
    printBytes(`${group} readings, ${seconds} s`, measureBytes(group, 24), single);
  }
  console.log(`a raw reading takes ${single.rowBytes.toFixed(1)} bytes of the file`);
}

function printBytes(name: string, cost: Cost, baseline: Cost): void {
  const [calls, device, index] = [cost.calls, cost.device, cost.index].map((n) => n.toFixed(0));
  const ratio = (baseline.calls / cost.calls).toFixed(1);
  const verdict = cost.calls <= LIMIT_BYTES ? "" : `  over ${LIMIT_BYTES}`;
  console.log(
    `${name.padEnd(21)} ${calls!.padStart(6)} ${device!.padStart(7)} ${index!.padStart(7)} ` +
      `${ratio.padStart(9)}${verdict}`,
  );
}

function measureBytes(group: number, hours: number): Cost {
  const plain = runFeed(group, hours, false);
  return { ...plain, index: runFeed(group, Math.min(hours, 4), true).device };
}

function runFeed(group: number, hours: number, flushIndex: boolean): Omit<Cost, "index"> {
  return inFolder((folder) => {
    const store = openStore(folder, SITE);
    const index = openSync(join(folder, "drowse.db-shm"), "r+");
    const readings = feed(hours);
    const before = readCounters();
    let savedAtMs = 0;
    let state = beginJudge(SITE);
    for (let i = 0; i < readings.length; i += group) {
      const some = readings.slice(i, i + group);
      const atMs = some.at(-1)!.takenAtMs;
      const findings: Finding[] = [];
      for (const reading of some) {
        const step = stepJudge(state, { kind: "reading", reading }, SITE);
        state = step.state;
        findings.push(...step.findings);
      }
      const isDue = atMs - savedAtMs >= REMEMBER_EVERY_MS;
      if (isDue) savedAtMs = atMs;
      const isTold = isDue || findings.length > 0;
      const judge = isTold ? { state: JSON.stringify(state), atMs } : null;
      const heard = isDue ? PROBES.map(({ id }) => heardOf(id, atMs)) : [];
      store.commit({ readings: some, findings, letters: [], judge, heard }, []);
      if (flushIndex) fsyncSync(index);
    }
    // Closing writes the log back into the file: the last checkpoint, counted too.
    store.close();
    closeSync(index);
    const after = readCounters();
    return {
      calls: (after.calls - before.calls) / readings.length,
      device: (after.device - before.device) / readings.length,
      rowBytes: tableBytes(folder) / readings.length,
    };
  });
}

/** Six probes with jitter in time; a compressor's cycle of ±1 K, and its shadow in the boxes. */
function feed(hours: number): Reading[] {
  const random = seeded(1, "feed");
  const readings: Reading[] = [];
  for (let beat = 0; beat < hours * 360; beat++)
    for (const [n, { id: probeId }] of PROBES.entries()) {
      const takenAtMs = START_MS + beat * 10_000 + n * 1_500 + Math.floor(draw(random) * 300);
      const swingK = probeId.endsWith("air") ? 1 : 0.1;
      const cycleK = swingK * Math.sin((beat * 2 * Math.PI) / CYCLE_BEATS);
      const temperatureC = Math.round((2.2 + cycleK + 0.05 * draw(random)) * 1_000) / 1_000;
      const humidityPct = Math.round(6_500 + 500 * draw(random)) / 100;
      readings.push({ probeId, takenAtMs, temperatureC, humidityPct });
    }
  return readings;
}

function heardOf(probeId: string, lastAtMs: number): Heard {
  const sample = '{"temperature":2.51,"humidity":65.2,"battery":97,"linkquality":120}';
  const topic = `quillmere/${probeId}`;
  return { topic, probeId, outcome: "reading", count: 60, lastAtMs, sample, detail: null };
}

function readCounters(): { calls: number; device: number } {
  const text = readFileSync(COUNTERS, "utf8");
  const read = (name: string) => Number(new RegExp(`^${name}: (\\d+)$`, "m").exec(text)?.[1]);
  return { calls: read("wchar"), device: read("write_bytes") };
}

function tableBytes(folder: string): number {
  const db = new Database(join(folder, "drowse.db"), { readonly: true });
  const bytes = db.prepare("SELECT sum(pgsize) FROM dbstat WHERE name = 'reading'").pluck().get();
  db.close();
  return Number(bytes);
}
