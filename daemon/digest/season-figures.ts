import { recallJudge } from "../../rules/recall.js";
import { type ChamberFigures, seasonOf } from "../../rules/season.js";
import type { Site } from "../../shared/site.js";
import type { Store } from "../store/store.js";

/** Figures of a span, such as the winter so far, for every chamber. */
export type SeasonFigures = Readonly<{
  fromMs: number;
  toMs: number;
  chambers: readonly ChamberFigures[];
}>;

/** The winter so far as the judge last wrote it down; null before the first time. */
export function seasonSoFar(
  store: Pick<Store, "judge">,
  site: Site,
  toMs: number,
): SeasonFigures | null {
  const memory = store.judge.load();
  const judged = memory === null ? null : recallJudge(memory.state);
  if (judged === null) return null;
  const chambers = seasonOf(judged, site);
  const begun = chambers.flatMap(({ fromMs }) => (fromMs === null ? [] : [fromMs]));
  return begun.length === 0 ? null : { fromMs: Math.min(...begun), toMs, chambers };
}
