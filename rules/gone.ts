import type { Excursion, Finding } from "../shared/excursion.js";
import type { Site } from "../shared/site.js";

/** What such an end was judged against; the digest says it in words of its own. */
export const GONE = "the config, which has it no more";

/**
 * Ends of excursions that nobody watches any more, because their probe or chamber has gone from
 * the config: no reading will ever end them.
 *
 * @param open excursions that are open
 * @param atMs now, Unix ms
 */
export function endGone(open: readonly Excursion[], site: Site, atMs: number): Finding[] {
  const probeIds = new Set(site.probes.map(({ id }) => id));
  const chamberIds = new Set(site.chambers.map(({ id }) => id));
  const isGone = ({ cause, probeId, chamberId }: Excursion): boolean =>
    (cause.startsWith("probe-") && probeId !== null && !probeIds.has(probeId)) ||
    (chamberId !== null && !chamberIds.has(chamberId));
  return open.filter(isGone).map(({ latest }) => ({
    ...latest,
    atMs: Math.max(atMs, latest.atMs),
    change: "ended",
    comparedWith: GONE,
    forecast: null,
  }));
}
