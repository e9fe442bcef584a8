import fc from "fast-check";
import { askedNumbers } from "../numbers.js";
import { openParsers } from "./parsers.js";

/*
 * Throws a million made-up inputs at every parser of bytes from outside: none may throw, be slow,
 * or leave memory behind. `--inputs N` for another number, `--from-seed N` for other inputs.
 */

const { inputs: INPUTS, "from-seed": SEED } = askedNumbers({
  inputs: 1_000_000,
  "from-seed": 1883,
});
/** No input may take longer than this, several times; our choice. */
const SLOW_MS = 50;
/** What may be left of a million inputs after collecting; our choice. */
const LEFT_BYTES_MOST = 16 * 2 ** 20;

const heapBytes = () => {
  global.gc?.();
  return process.memoryUsage().heapUsed;
};

let failed = false;
const { all, close } = openParsers();
const weights = all.reduce((sum, { weight }) => sum + weight, 0);
for (const { name, input, weight, corpus, read } of all) {
  const count = Math.ceil((INPUTS * weight) / weights);
  const beforeBytes = heapBytes();
  let slowestMs = 0;
  let slowest: unknown = null;
  const startedMs = performance.now();
  const timed = async (value: unknown) => {
    const startMs = performance.now();
    await read(value);
    const tookMs = performance.now() - startMs;
    if (tookMs > slowestMs) [slowestMs, slowest] = [tookMs, value];
  };
  const outcome = await fc.check(fc.asyncProperty(input, timed), {
    numRuns: count,
    seed: SEED,
    examples: corpus.map((value): [unknown] => [value]),
  });
  // On a busy machine an input may wait for its turn; what it costs is counted in CPU time.
  const again: number[] = [];
  for (let turn = 0; turn < 5 && !outcome.failed; turn++) {
    const before = process.cpuUsage();
    await read(slowest);
    const { user, system } = process.cpuUsage(before);
    again.push((user + system) / 1_000);
  }
  slowest = null;
  const leftBytes = heapBytes() - beforeBytes;
  const isSlow = Math.min(...again) > SLOW_MS;
  const isSound = !outcome.failed && !isSlow && leftBytes < LEFT_BYTES_MOST;
  failed ||= !isSound;
  const seconds = (performance.now() - startedMs) / 1_000;
  console.log(
    `${name.padEnd(24)} ${String(count).padStart(7)} inputs in ${seconds.toFixed(0)} s, slowest ` +
      `${Math.min(slowestMs, ...again).toFixed(1)} ms, left ${(leftBytes / 2 ** 20).toFixed(1)} MB` +
      `${isSound ? "" : "  FAILED"}`,
  );
  if (outcome.failed) console.log(fc.defaultReportMessage(outcome));
}
await close();
if (failed) process.exitCode = 1;
