import type { Beside, Finding } from "../shared/excursion.js";
import type { Reading } from "../shared/reading.js";
import { isAmongCocoons, type Probe, type Site } from "../shared/site.js";
import { SECOND_MS } from "../shared/time.js";
import type { ChamberState } from "./chamber-state.js";
import { excursionIdOf } from "./lane.js";
import { type Hearing, type Mute, muteAtMs, usualIntervalMs } from "./mute.js";
import { probeFinding, TOGETHER_MS } from "./probe-finding.js";

type Heard = Readonly<{ hearings: readonly Hearing[]; findings: readonly Finding[] }>;

/** When a probe's silence counts, or a note becomes a visit; Infinity for never. */
function changesAtMs(hearing: Hearing, probe: Probe): number {
  return hearing.mute?.visitAtMs ?? muteAtMs(hearing, probe);
}

/** The first instant after which some silence counts, ms; null while none can. */
export function nextSilenceMs(hearings: readonly Hearing[], site: Site): number | null {
  let soonest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < hearings.length; i++)
    soonest = Math.min(soonest, changesAtMs(hearings[i]!, site.probes[i]!));
  return soonest === Number.POSITIVE_INFINITY ? null : soonest;
}

/** Tell each silence that counts by `toMs`, at the instant at which it began to count. */
export function tellSilences(
  hearings: readonly Hearing[],
  toMs: number,
  site: Site,
  chambers: readonly ChamberState[],
): Heard {
  const due = hearings
    .map((hearing, index) => ({ index, atMs: changesAtMs(hearing, site.probes[index]!) }))
    .filter(({ atMs }) => atMs <= toMs)
    .sort((a, b) => a.atMs - b.atMs);
  const next = hearings.slice();
  const findings: Finding[] = [];
  for (const { index, atMs } of due) {
    const probe = site.probes[index]!;
    const hearing = next[index]!;
    if (hearing.mute !== null) {
      const raised: Mute = { ...hearing.mute, urgency: "visit", visitAtMs: null };
      next[index] = { ...hearing, mute: raised };
      findings.push(muteFinding(hearing, raised, probe, chambers, "raised", atMs));
      continue;
    }
    const told = next.some(
      (h) => h.mute?.urgency === "visit" && atMs - h.mute.openedAtMs < TOGETHER_MS,
    );
    const mute: Mute = {
      excursionId: excursionIdOf(probe.id, "mute", hearing.lastAtMs),
      urgency: isAmongCocoons(probe.place) && !told ? "visit" : "note",
      sinceMs: hearing.lastAtMs,
      openedAtMs: atMs,
      visitAtMs: null,
    };
    next[index] = { ...hearing, mute };
    findings.push(muteFinding(hearing, mute, probe, chambers, "opened", atMs));
  }
  return { hearings: next, findings };
}

/**
 * End the silences of probes that spoke in a moment. One that fell silent with the last of those
 * told needs a letter of its own if it stays silent for a while longer.
 *
 * @param spoke what was said in the moment
 * @param endMs when it ended
 * @param nowMs when it is told, if what was said then came late
 */
export function endSilences(
  hearings: readonly Hearing[],
  spoke: readonly Reading[],
  endMs: number,
  nowMs: number,
  site: Site,
  chambers: readonly ChamberState[],
): Heard {
  if (!hearings.some(speaksAgain)) return { hearings, findings: [] };
  const atMs = Math.max(endMs, nowMs);
  const findings: Finding[] = [];
  const next = hearings.map((hearing, i) => {
    const { probeId, mute } = hearing;
    if (!speaksAgain(hearing) || !spoke.some((r) => r.probeId === probeId)) return hearing;
    // Where nobody else saw the cocoons meanwhile, the silence was a dark one.
    const { chamberId } = site.probes[i]!;
    const dark = chambers.find((c) => c.chamberId === chamberId)?.unseen.stretches.at(-1);
    const beside = dark?.toMs === endMs ? { dark } : null;
    findings.push(muteFinding(hearing, mute!, site.probes[i]!, chambers, "ended", atMs, beside));
    return { ...hearing, mute: null };
  });
  if (findings.length === 0) return { hearings, findings };
  const wasTold = findings.some((f) => f.urgency === "visit");
  const others = next.findIndex(
    (h, i) => h.mute?.urgency === "note" && isAmongCocoons(site.probes[i]!.place),
  );
  const stillTold = next.some((h) => h.mute?.urgency === "visit");
  if (!wasTold || others < 0 || stillTold) return { hearings: next, findings };
  const mute: Mute = { ...next[others]!.mute!, visitAtMs: atMs + TOGETHER_MS };
  next[others] = { ...next[others]!, mute };
  return { hearings: next, findings };
}

const speaksAgain = ({ mute, lastAtMs }: Hearing): boolean =>
  mute !== null && lastAtMs > mute.sinceMs;

function muteFinding(
  hearing: Hearing,
  mute: Mute,
  probe: Probe,
  chambers: readonly ChamberState[],
  change: Finding["change"],
  atMs: number,
  beside: Beside | null = null,
): Finding {
  const usualS = Math.round(usualIntervalMs(hearing, probe) / SECOND_MS);
  return probeFinding(probe, mute, chambers, {
    atMs,
    change,
    cause: "probe-mute",
    comparedWith: `its usual interval of ${usualS} s`,
    ...(beside === null ? {} : { beside }),
  });
}
