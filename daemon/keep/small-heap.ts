import { getHeapSpaceStatistics, setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

/** Our choice: V8 collects when the old generation has grown by so much since the last time. */
const GROWTH_PCT = 25;
/** Our choice: of both its halves. In a flood it costs a third of what V8's first 2 MB cost. */
const YOUNG_MOST_BYTES = 8 * 1024 * 1024;
/** In one commit; what a house of sensors says in an hour comes at once. */
const FLOOD_READINGS = 256;

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
  letYoungGrow(false);
  setFlagsFromString("--no-parallel-scavenge");
  setFlagsFromString(`--heap-growing-percent=${GROWTH_PCT}`);
}

/**
 * Let the young generation grow while readings pour in, to some megabytes: those that wait for
 * their commit then outlive fewer collections. V8 takes it back itself when little goes on.
 *
 * @returns to be told of each commit, with its number of readings
 */
export function openYoungRoom(): (readings: number) => void {
  let grows = false;
  return (readings) => {
    const may = readings >= FLOOD_READINGS && youngBytes() < YOUNG_MOST_BYTES;
    if (may !== grows) letYoungGrow(may);
    grows = may;
  };
}

function youngBytes(): number {
  const spaces = getHeapSpaceStatistics();
  return spaces.find(({ space_name }) => space_name === "new_space")?.space_size ?? 0;
}

function letYoungGrow(may: boolean): void {
  setFlagsFromString(`--semi-space-growth-factor=${may ? 2 : 1}`);
}

/** Collect now: until the first whole collection V8 counts on a heap of any size. */
export function settleHeap(): void {
  setFlagsFromString("--expose-gc");
  runInNewContext("gc")();
}
