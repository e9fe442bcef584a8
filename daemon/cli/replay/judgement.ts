import * as judge from "../../../rules/judge.js";
import { MOMENT_MS } from "../../../rules/moment.js";
import { seasonOf } from "../../../rules/season.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";
import type { Site } from "../../../shared/site.js";
import { type FlatFigures, flatFigures } from "../../season/flat-figures.js";

/** The figures of a season for each chamber, by the names the judge gives them. */
export type Summary = Readonly<Record<string, FlatFigures>>;

/**
 * Judge readings from nothing, as a watch would have that was told each instant it reached.
 *
 * @param readings in order of time
 * @param tell called with each finding as it is made
 */
export function judgeReadings(
  readings: Iterable<Reading>,
  site: Site,
  tell: (finding: Finding) => void,
): Summary {
  let state = judge.beginJudge(site);
  let lastMs: number | null = null;
  const step = (event: judge.JudgeEvent) => {
    const result = judge.stepJudge(state, event, site);
    state = result.state;
    for (const finding of result.findings) tell(finding);
  };
  for (const reading of readings) {
    const atMs = reading.takenAtMs;
    if (atMs !== lastMs) step({ kind: "tick", atMs });
    lastMs = atMs;
    step({ kind: "reading", reading });
  }
  // The last moment ends after its last reading.
  if (lastMs !== null) step({ kind: "tick", atMs: lastMs + MOMENT_MS });
  return summaryOf(state, site);
}

function summaryOf(state: judge.JudgeState, site: Site): Summary {
  const figures = seasonOf(state, site);
  return Object.fromEntries(figures.map((chamber) => [chamber.chamberId, flatFigures(chamber)]));
}
