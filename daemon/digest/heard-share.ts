import type { Probe } from "../../shared/site.js";
import type { Rollup } from "../store/records.js";
import { type Stretch, unseenStretches } from "./hour-figures.js";

/** How long of a span any probe was heard in, by whole hours, ms. */
export function seenMsIn(hours: readonly Rollup[], span: Stretch): number {
  const unseen = unseenStretches(hours, span);
  const unseenMs = unseen.reduce((sum, stretch) => sum + stretch.toMs - stretch.fromMs, 0);
  return span.toMs - span.fromMs - unseenMs;
}

/**
 * Of the readings that a probe's interval promises for the time in which any was heard, the share
 * that came, 0 to 1; null when it promises none.
 */
export function heardShareOf(
  { id, intervalMs }: Probe,
  hours: readonly Rollup[],
  seenMs: number,
): number | null {
  const promised = Math.floor(seenMs / intervalMs);
  if (!(promised > 0)) return null;
  const readings = hours
    .filter(({ probeId }) => probeId === id)
    .reduce((sum, { count }) => sum + count, 0);
  return Math.min(1, readings / promised);
}
