import type { Finding } from "../shared/excursion.js";
import type { Probe, Site } from "../shared/site.js";
import { MINUTE_MS, SECOND_MS } from "../shared/time.js";
import type { ChamberState } from "./chamber-state.js";
import { excursionIdOf } from "./lane.js";
import { type Hearing, type Mute, muteAtMs, usualIntervalMs } from "./mute.js";

/** Silences told this close together are one matter: broker, radio, power. Our choice. */
const TOGETHER_MS = 10 * MINUTE_MS;

type Heard = Readonly<{ hearings: readonly Hearing[]; findings: readonly Finding[] }>;

/** Only probes that watch the cocoons are worth a walk; the rest can wait for the digest. */
const asksVisit = (probe: Probe): boolean => probe.place === "air" || probe.place === "box";

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
      urgency: asksVisit(probe) && !told ? "visit" : "note",
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
 * End the silences of probes that spoke in the moment that ends at `atMs`. One that fell silent
 * with the last of those told needs a letter of its own if it stays silent for a while longer.
 */
export function endSilences(
  hearings: readonly Hearing[],
  atMs: number,
  site: Site,
  chambers: readonly ChamberState[],
): Heard {
  if (!hearings.some(speaksAgain)) return { hearings, findings: [] };
  const findings: Finding[] = [];
  const next = hearings.map((hearing, i) => {
    if (!speaksAgain(hearing)) return hearing;
    const { mute } = hearing;
    findings.push(muteFinding(hearing, mute!, site.probes[i]!, chambers, "ended", atMs));
    return { ...hearing, mute: null };
  });
  const wasTold = findings.some((f) => f.urgency === "visit");
  const others = next.findIndex((h, i) => h.mute?.urgency === "note" && asksVisit(site.probes[i]!));
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
): Finding {
  const chamber = chambers.find((c) => c.chamberId === probe.chamberId);
  // Where nobody else saw the cocoons meanwhile, the silence was a dark one.
  const dark = change === "ended" ? chamber?.unseen.stretches.at(-1) : undefined;
  const usualS = Math.round(usualIntervalMs(hearing, probe) / SECOND_MS);
  const costs = { degreeHoursAbove: 0, degreeHoursBelow: 0, reserveDays: 0 };
  return {
    atMs,
    chamberId: probe.chamberId,
    probeId: probe.id,
    excursionId: mute.excursionId,
    change,
    cause: "probe-mute",
    urgency: mute.urgency,
    startedAtMs: mute.sinceMs,
    cocoonC: chamber?.cocoon.cocoonC ?? null,
    airC: chamber?.airC ?? null,
    humidityPct: chamber?.humidityPct ?? null,
    cocoonSpanC: null,
    comparedWith: `its usual interval of ${usualS} s`,
    cost: { ...costs, wetHours: null, mouldIndex: null },
    forecast: null,
    ...(dark === undefined || dark.toMs !== atMs ? {} : { beside: { dark } }),
  };
}
