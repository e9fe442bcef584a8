import { isSaneClock } from "../shared/time.js";
import type { JudgeState } from "./judge.js";

/** No instant that the judge remembers is later; sums of a winter are far below the earliest. */
const LATEST_MS = Date.UTC(2100, 0, 1);

/**
 * A judgement with all that it remembers moved in time, for a clock that was wrong and has been
 * set: how long things have been so stays as it was.
 *
 * Instants are known by their size. To name each would have to be remembered by every new rule,
 * and one forgotten would leave its rule blind for as long as the clock was wrong.
 *
 * @param byMs what was added to the clock, ms; below 0 where it was set back
 */
export function shiftJudge(state: JudgeState, byMs: number): JudgeState {
  return shifted(state, Math.round(byMs)) as JudgeState;
}

function shifted(value: unknown, byMs: number): unknown {
  if (typeof value === "number")
    return isSaneClock(value) && value < LATEST_MS ? value + byMs : value;
  if (Array.isArray(value)) return value.map((one) => shifted(one, byMs));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, shifted(one, byMs)]));
}
