import { MINUTE_MS } from "../shared/time.js";

/** The chamber's air at one moment; `hpa` is its vapour pressure, null where humidity is not measured. */
export type AirSample = Readonly<{ atMs: number; airC: number; hpa: number | null }>;

const KEPT_MS = 15 * MINUTE_MS;
const KEPT_MOST = 48;
const KEPT_LEAST = 4;

/**
 * The last quarter of an hour of air, oldest first: at least four samples, so that a slow
 * probe has a past too, and at most 48, so that a fast one does not grow it.
 */
export function rememberAir(recent: readonly AirSample[], sample: AirSample): readonly AirSample[] {
  let first = 0;
  const enough = recent.length - KEPT_LEAST + 1;
  while (first < enough && sample.atMs - recent[first]!.atMs > KEPT_MS) first++;
  first = Math.max(first, recent.length - KEPT_MOST + 1);
  const kept = recent.slice(first);
  kept.push(sample);
  return kept;
}
