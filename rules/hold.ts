/** Since when a condition has held without a break; null while it does not. */
export type Hold = number | null;

/** Move a hold on: it starts when the condition first holds and is gone when it does not. */
export function hold(since: Hold, holds: boolean, atMs: number): Hold {
  if (!holds) return null;
  return since ?? atMs;
}

/** Whether it has held for at least `forMs`. */
export function heldFor(since: Hold, atMs: number, forMs: number): boolean {
  return since !== null && atMs - since >= forMs;
}
