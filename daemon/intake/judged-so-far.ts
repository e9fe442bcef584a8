import { adoptJudge, type JudgeState, stepJudge } from "../../rules/judge.js";
import { MOMENT_MS } from "../../rules/moment.js";
import { recallJudge } from "../../rules/recall.js";
import type { Site } from "../../shared/site.js";
import type { Store } from "../store/store.js";

/**
 * What the judge knows, as far as the store tells: what it last wrote down, and on from there the
 * readings that were stored since, so that whoever looks sees no state of ten minutes ago.
 *
 * @returns null before it first wrote anything down
 */
export function judgedSoFar(
  store: Pick<Store, "judge" | "readings" | "checks">,
  site: Site,
): JudgeState | null {
  const memory = store.judge.load();
  const remembered = memory === null ? null : recallJudge(memory.state);
  if (remembered === null) return null;
  const corrector = store.checks.corrector();
  let state = adoptJudge(remembered, site);
  // What it has seen of the moment in which it wrote it passes over.
  for (const stored of store.readings.allBetween(state.nowMs - MOMENT_MS, Number.MAX_SAFE_INTEGER))
    state = stepJudge(state, { kind: "reading", reading: corrector.correct(stored) }, site).state;
  return state;
}
