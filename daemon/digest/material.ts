import type { Excursion } from "../../shared/excursion.js";
import { cocoonSeriesId, type Site } from "../../shared/site.js";
import { HOUR_MS } from "../../shared/time.js";
import { gatherProbes, type ProbeStanding } from "../probes/standing.js";
import type { PostedLetter, Rollup } from "../store/records.js";
import type { Store } from "../store/store.js";
import type { SeasonFigures } from "./season-figures.js";

/** All that a digest is made from. Times are Unix ms; the span is [fromMs, toMs). */
export type DigestMaterial = Readonly<{
  site: Site;
  fromMs: number;
  toMs: number;
  /** When the first reading of all came, if that lies within the span; otherwise `fromMs`. */
  watchedFromMs: number;
  /** Hours of all probes, oldest first for each. */
  hours: readonly Rollup[];
  /** When each probe was last heard, before `toMs` or not; a probe never heard is absent. */
  lastHeardMs: ReadonlyMap<string, number>;
  /** How far each probe can be believed at the end of the span. */
  standings: readonly ProbeStanding[];
  /** Those that overlap the span. */
  excursions: readonly Excursion[];
  /** Letters created in the span. */
  letters: readonly PostedLetter[];
  week: SeasonFigures | null;
  season: SeasonFigures | null;
}>;

/** Read what a digest needs from the store. Decides nothing. */
export function gatherDigest(
  store: Pick<Store, "readings" | "rollups" | "excursions" | "letters" | "checks" | "board">,
  site: Site,
  span: Readonly<{ fromMs: number; toMs: number }>,
  judged: Readonly<{ week: SeasonFigures | null; season: SeasonFigures | null }>,
): DigestMaterial {
  const { fromMs, toMs } = span;
  const ids = [
    ...site.probes.map(({ id }) => id),
    ...site.chambers.map(({ id }) => cocoonSeriesId(id)),
  ];
  const hours = ids.flatMap((id) => store.rollups.hours(id, fromMs, toMs));
  const lastHeardMs = new Map<string, number>();
  for (const { id } of site.probes) {
    const latest = store.readings.latest(id);
    if (latest !== null) lastHeardMs.set(id, latest.takenAtMs);
  }
  const isKnownBefore = site.probes.some(({ id }) => store.rollups.days(id, 0, fromMs).length > 0);
  const firstMs = Math.min(...hours.map((hour) => hour.fromMs));
  const watchedFromMs =
    isKnownBefore || !Number.isFinite(firstMs) ? fromMs : Math.max(fromMs, firstMs);
  return {
    site,
    fromMs,
    toMs,
    watchedFromMs: Math.min(watchedFromMs, toMs - HOUR_MS),
    hours,
    lastHeardMs,
    standings: gatherProbes(store, site, toMs, span),
    excursions: store.excursions.between(fromMs, toMs),
    letters: store.letters.between(fromMs, toMs),
    ...judged,
  };
}
