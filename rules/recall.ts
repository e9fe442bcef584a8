import { beginChamber, type ChamberState } from "./chamber.js";
import { JUDGE_VERSION, type JudgeState } from "./judge.js";

/**
 * The judge's memory as it was stored, brought to the present version; null where it cannot be
 * used, and the judgement must begin anew.
 *
 * What a winter cost stands in it and nowhere else, so what an older version lacked begins afresh
 * and the rest is kept.
 *
 * @param text a `JudgeState` as JSON, of this version or an older one
 */
export function recallJudge(text: string): JudgeState | null {
  const stored = parse(text);
  if (!isRecord(stored) || !Array.isArray(stored.chambers)) return null;
  const { version } = stored;
  if (version === JUDGE_VERSION) return stored as JudgeState;
  return version === 1 ? fromFirst(stored as JudgeState) : null;
}

/** Version 1 knew nothing of deeds. */
function fromFirst(stored: JudgeState): JudgeState {
  const chambers = stored.chambers.map(
    (chamber): ChamberState => ({ ...beginChamber(chamber.chamberId), ...chamber }),
  );
  return { ...stored, version: JUDGE_VERSION, chambers };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
