import { setFlagsFromString } from "node:v8";

/**
 * Ask V8 to collect sooner rather than to let its heap grow: after a flood a board of 512 MB has
 * better use for what it would keep. Costs some speed in a flood and nothing otherwise.
 *
 * This flag is one that V8 looks up each time it sizes its heap, so setting it at run time works;
 * on the command line it would have to be typed by whoever starts Drowse.
 */
export function preferSmallHeap(): void {
  setFlagsFromString("--optimize-for-size");
}
