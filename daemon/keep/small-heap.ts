import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

/** Our choice: V8 collects when the old generation has grown by so much since the last time. */
const GROWTH_PCT = 25;

/**
 * Make V8 hold its heap small rather than let it grow: a board of 512 MB has better use for it.
 * To be called before the libraries are loaded, for that is what stretches the young generation.
 *
 * All flags set here are ones that V8 looks up each time it sizes its heap or collects, so that
 * setting them at run time works; on the command line they would have to be typed by whoever
 * starts Drowse. Turned down: `--optimize-for-size`, which makes a reading cost nearly twice as
 * much; and helper threads for short collections, which on a busy board are waited for longer
 * than the work takes.
 */
export function preferSmallHeap(): void {
  setFlagsFromString("--semi-space-growth-factor=1");
  setFlagsFromString("--no-parallel-scavenge");
  setFlagsFromString(`--heap-growing-percent=${GROWTH_PCT}`);
}

/** Collect now: until the first whole collection V8 counts on a heap of any size. */
export function settleHeap(): void {
  setFlagsFromString("--expose-gc");
  runInNewContext("gc")();
}
