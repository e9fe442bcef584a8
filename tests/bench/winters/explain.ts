import { DAY_MS, MINUTE_MS } from "../../../shared/time.js";
import type { Winter } from "./labelled.js";
import type { Score } from "./score.js";

/** A line for each fault that was missed, late or given a wrong cause, and each letter in vain. */
export function explainScore(winter: Winter, score: Score): string[] {
  const name = `${winter.fridgeName} ${winter.seed}`;
  const day = (atMs: number) => `day ${((atMs - winter.startMs) / DAY_MS).toFixed(3)}`;
  const faults = score.verdicts
    .filter((v) => v.letter === null || !v.inTime || !v.causeRight)
    .map(({ label, letter, delayMin, inTime }) => {
      const lengthMin = ((label.endMs - label.startMs) / MINUTE_MS).toFixed(0);
      const share = label.doorShare === null ? "" : ` open ${label.doorShare.toFixed(2)}`;
      const rise = label.airRiseK === null ? "" : ` air +${label.airRiseK.toFixed(1)} K`;
      const told =
        letter === null
          ? "never told"
          : `told after ${delayMin?.toFixed(1)} min as ${letter.cause}${inTime ? "" : ", late"}`;
      return `  ${name}: ${label.kind} ${day(label.startMs)} ${lengthMin} min${share}${rise}: ${told}`;
    });
  const vain = score.inVain.map(
    (l) => `  ${name}: in vain ${day(l.atMs)} ${l.change} ${l.cause} ${l.urgency}`,
  );
  return [...faults, ...vain];
}
