import type { Checks } from "./checks.js";
import type { openExcursions } from "./excursions.js";
import type { openJudgeMemory } from "./judge-memory.js";
import type { openPosting } from "./letters.js";
import type { Readings } from "./readings.js";
import type { Revision } from "./records.js";
import type { openRollups } from "./rollups.js";

type Parts = Readonly<{
  checks: Checks;
  readings: Readings;
  rollups: ReturnType<typeof openRollups>;
  excursions: ReturnType<typeof openExcursions>;
  judge: ReturnType<typeof openJudgeMemory>;
  posting: ReturnType<typeof openPosting>;
}>;

/**
 * Take in checks with all that follows from them; in the caller's transaction, so that no process
 * ever sees corrections, hours and judgement that do not belong together.
 */
export function openRevising(parts: Parts) {
  const { checks, readings, rollups, excursions, judge, posting } = parts;
  return (revision: Revision, keepers: readonly string[]): void => {
    const { entryNo, shifts, series, before, after, letters } = revision;
    checks.setTakenNo(entryNo);
    for (const { probeId, fromMs } of shifts) rollups.rebuildOf(probeId, fromMs);
    for (const { probeId, fromMs, values } of series) {
      const rows = values.map(readings.rowOf);
      readings.removeOf(probeId, fromMs);
      for (const row of rows) readings.add(row);
      rollups.rebuildOf(probeId, fromMs);
    }
    excursions.revise(entryNo, before, after);
    judge.save(revision.judge);
    for (const letter of letters) posting.queue(letter, keepers);
  };
}
