import { localDay } from "../../../shared/site-calendar.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { oneLine } from "../../letters/one-line.js";
import {
  addedWords,
  correctionSources,
  doubtSentences,
  type ProbeWording,
  valuesWords,
} from "../../probes/probe-words.js";
import type { ProbeStanding } from "../../probes/standing.js";
import { layTable } from "../table.js";

/**
 * Every probe in a line that a narrow terminal holds, its values corrected; below it what is to be
 * said of single ones.
 */
export function showProbes(probes: readonly ProbeStanding[], wording: ProbeWording): string {
  const { unit, timezone, nowMs } = wording;
  const rows = probes.map((probe) => [
    oneLine(probe.probeId, 20),
    probe.raw === null ? "never" : agoWords(nowMs - probe.raw.takenAtMs),
    valuesWords(probe, unit),
    shareWords(probe.heardShare),
    addedWords(probe, unit).replace("%RH", "%"),
    probe.check === null ? "never" : localDay(probe.check.lastMs, timezone),
    probe.check === null ? "now" : localDay(probe.check.dueMs, timezone),
  ]);
  const table = layTable(["probe", "heard", "says", "came", "added", "checked", "due"], rows);
  const doubts = probes.flatMap((probe) =>
    doubtSentences(probe, wording).map((doubt) => `${oneLine(probe.probeId, 20)}: ${doubt}`),
  );
  const sources = probes.flatMap(correctionSources);
  const named = sources.length === 0 ? [] : [`Added by checks: ${sources.join(", ")}`];
  return [table, ...doubts, ...named].join("\n");
}

/** Never 100 % for what is not quite all; short, for a column. */
const shareWords = (share: number | null): string =>
  share === null ? "–" : `${Math.floor(100 * share)} %`;

/** How long ago, in the coarsest unit that tells: "40 s ago", "12 min ago", "3 h ago", "5 d ago". */
function agoWords(durationMs: number): string {
  const s = Math.max(0, Math.round(durationMs / 1_000));
  if (s < 60) return `${s} s ago`;
  const min = Math.round(durationMs / MINUTE_MS);
  if (min < 60) return `${min} min ago`;
  const h = Math.round(durationMs / HOUR_MS);
  return h < 48 ? `${h} h ago` : `${Math.round(h / 24)} d ago`;
}
