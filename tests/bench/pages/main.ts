import { existsSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import { openStore, type Store } from "../../../daemon/store/store.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { END_MS, keepSeason, SEASON_DAYS, SITE, START_MS } from "./season.js";
import { type Answer, type Served, STATIC_BYTES, servePages } from "./served.js";
import { viewsOf } from "./views.js";

/*
 * How fast each page of a whole season is served, over HTTP, and how large it is; beside them how
 * long the raw rows of the same season take to aggregate by probe and hour in the same run, which
 * is what a view of it would cost if there were no rollups. "First" is the first asking since the
 * pages are served, when nothing is kept in memory. Before every other one ten seconds go by and
 * each probe speaks, as in life, so that no answer is simply the one before. CPU time is of all
 * threads, and includes whoever asks.
 *
 * DROWSE_BENCH_SEASON names a folder in which the season is kept for the next run, and
 * DROWSE_BENCH_FOLDER where a folder is made that goes afterwards.
 */

const WARMING = 3;
const ROUNDS = 25;
const LIMIT_MS = 50;
const LIMIT_BYTES = 150_000;
const LEAST_RATIO = 100;

const seconds = (fromMs: number) => ((performance.now() - fromMs) / 1_000).toFixed(0);

async function benchPages(folder: string): Promise<void> {
  const isKept = existsSync(join(folder, "drowse.db"));
  const fromMs = performance.now();
  let store = openStore(folder, SITE);
  if (!isKept) {
    const count = keepSeason(store);
    store.close();
    store = openStore(folder, SITE);
    console.log(`pages: ${count.toLocaleString("en-GB")} readings kept in ${seconds(fromMs)} s`);
  }
  const rawMs = aggregateRaw(folder);
  console.log(
    `pages: ${SEASON_DAYS} days of ${SITE.probes.length} probes; raw rows by probe and hour take ` +
      `${rawMs.toFixed(0)} ms; load ${loadavg()[0]!.toFixed(1)}`,
  );
  await benchViews(store, rawMs);
  store.close();
}

/** Time to aggregate the raw rows of the season by probe and hour; the quickest of three. */
function aggregateRaw(folder: string): number {
  const db = new Database(join(folder, "drowse.db"), { readonly: true });
  const aggregate = db
    .prepare<[number, number]>(`
      SELECT probe_no, taken_at_ms / ${HOUR_MS} AS hour, count(*) AS count,
        avg(temperature_milli_c), min(temperature_milli_c), max(temperature_milli_c),
        avg(humidity_centi_pct), min(humidity_centi_pct), max(humidity_centi_pct)
      FROM reading WHERE taken_at_ms >= ? AND taken_at_ms < ? GROUP BY 1, 2`)
    .raw();
  const times = [1, 2, 3].map(() => {
    const fromMs = performance.now();
    aggregate.all(START_MS, END_MS);
    return performance.now() - fromMs;
  });
  db.close();
  return Math.min(...times);
}

async function benchViews(store: Store, rawMs: number): Promise<void> {
  const served = await servePages(store, END_MS + MINUTE_MS);
  console.log("view                         first  median   worst  CPU ms   kB   raw / median");
  for (const { name, address } of viewsOf(store)) {
    const { firstMs, medianMs, worstMs, cpuMs, bytes } = await measure(served, address);
    const ratio = rawMs / medianMs;
    const all = bytes + STATIC_BYTES;
    const misses = [
      medianMs >= LIMIT_MS && `over ${LIMIT_MS} ms`,
      all >= LIMIT_BYTES && `over ${LIMIT_BYTES / 1_000} kB`,
      ratio < LEAST_RATIO && `under ${LEAST_RATIO} ×`,
    ].filter(Boolean);
    const times = [firstMs, medianMs, worstMs, cpuMs].map((ms) => ms.toFixed(1).padStart(7));
    const rest = `${(all / 1_000).toFixed(0).padStart(4)} ${ratio.toFixed(0).padStart(9)} ×`;
    console.log(`${name.padEnd(26)} ${times.join(" ")} ${rest}  ${misses.join(", ")}`);
  }
  await served.close();
}

async function measure(served: Served, address: string) {
  const first = await served.ask(address);
  for (let i = 0; i < WARMING; i++) await served.ask(address);
  globalThis.gc?.();
  const answers: Answer[] = [];
  let cpuUs = 0;
  for (let i = 0; i < ROUNDS; i++) {
    served.goOn();
    const before = process.cpuUsage();
    answers.push(await served.ask(address));
    const { user, system } = process.cpuUsage(before);
    cpuUs += user + system;
  }
  const times = answers.map(({ ms }) => ms).sort((a, b) => a - b);
  return {
    firstMs: first.ms,
    medianMs: times[Math.floor(ROUNDS / 2)]!,
    worstMs: times.at(-1)!,
    cpuMs: cpuUs / 1_000 / ROUNDS,
    bytes: first.bytes,
  };
}

const kept = process.env.DROWSE_BENCH_SEASON;
if (kept === undefined) {
  const folder = mkdtempSync(join(process.env.DROWSE_BENCH_FOLDER ?? tmpdir(), "drowse-bench-"));
  try {
    await benchPages(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
} else {
  mkdirSync(kept, { recursive: true });
  await benchPages(kept);
}
