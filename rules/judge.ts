import type { Finding } from "../shared/excursion.js";
import type { Reading } from "../shared/reading.js";
import type { Site } from "../shared/site.js";

/** What a judgement is told: a reading that arrived, or that time has moved on. */
export type JudgeEvent =
  | Readonly<{ kind: "reading"; reading: Reading }>
  | Readonly<{ kind: "tick"; atMs: number }>;

/** All that a judgement remembers; plain JSON, so that it can be stored and taken up again. */
export type JudgeState = Readonly<{ version: 1 }>;

/** The state before the first event. */
export function beginJudge(_site: Site): JudgeState {
  return { version: 1 };
}

/** Move the judgement of a whole site on by one event. Pure; never throws. */
export function stepJudge(
  state: JudgeState,
  _event: JudgeEvent,
  _site: Site,
): { state: JudgeState; findings: readonly Finding[] } {
  return { state, findings: [] };
}
