import { type ChamberFigures, seasonOf } from "../../rules/season.js";
import type { Site } from "../../shared/site.js";
import { judgedSoFar } from "../intake/judged-so-far.js";
import type { Store } from "../store/store.js";

/** Figures of a span, such as the winter so far, for every chamber. */
export type SeasonFigures = Readonly<{
  fromMs: number;
  toMs: number;
  chambers: readonly ChamberFigures[];
}>;

/** The winter so far; null before the judge first wrote it down. */
export function seasonSoFar(
  store: Pick<Store, "judge" | "readings" | "checks">,
  site: Site,
  toMs: number,
): SeasonFigures | null {
  const judged = judgedSoFar(store, site);
  if (judged === null) return null;
  const chambers = seasonOf(judged, site);
  const begun = chambers.flatMap(({ fromMs }) => (fromMs === null ? [] : [fromMs]));
  return begun.length === 0 ? null : { fromMs: Math.min(...begun), toMs, chambers };
}
