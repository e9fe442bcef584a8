import type { Finding } from "../../shared/excursion.js";
import { isAmongCocoons, type Probe, type Site } from "../../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import type { ChamberState } from "../chamber-state.js";
import { excursionIdOf } from "../lane.js";
import { type Hearing, usualIntervalMs } from "../mute.js";
import { faultFinding, isTogether } from "./fault-finding.js";
import type { ProbeHealth, ToldFault } from "./health.js";
import { numberWords } from "./number-words.js";
import { isStuck } from "./stuck.js";

/** Bad values within one excursion that make it worth a walk; our choice. */
const WILD_MANY = 5;
/** Nothing good for three intervals and so long counts as silence does; our choice. */
const BLIND_MS = 4 * MINUTE_MS;

/** Whether a probe has, had or may have a fault to be told. */
export function isWorthTelling(health: ProbeHealth, probe: Probe, intervalMs: number): boolean {
  return (
    health.wild !== null ||
    health.wildTold !== null ||
    health.stuckTold !== null ||
    isStuck(health, probe.place, intervalMs)
  );
}

/** Tell what is new of faults, and note in `probes` that it was told. */
export function tellFaults(
  probes: ProbeHealth[],
  hearings: readonly Hearing[],
  atMs: number,
  site: Site,
  chambers: readonly ChamberState[],
  findings: Finding[],
): void {
  for (const [index, probe] of site.probes.entries()) {
    const intervalMs = usualIntervalMs(hearings[index]!, probe);
    const health = probes[index]!;
    if (!isWorthTelling(health, probe, intervalMs)) continue;
    const others = probes.flatMap((p, i) => (i === index ? [] : [p.wildTold, p.stuckTold]));
    const asksVisit = (sinceMs: number): boolean =>
      isAmongCocoons(probe.place) && !isTogether(others, sinceMs);
    const say = (
      told: ToldFault,
      cause: "probe-wild" | "probe-stuck",
      change: Finding["change"],
    ): void => {
      findings.push(faultFinding(probe, told, cause, change, atMs, chambers));
    };
    const wildTold = tellWild(health, asksVisit, intervalMs, atMs, say);
    const stuckTold = tellStuck(health, probe, asksVisit, intervalMs, atMs, say);
    if (wildTold !== health.wildTold || stuckTold !== health.stuckTold)
      probes[index] = { ...health, wildTold, stuckTold };
  }
}

type Say = (
  told: ToldFault,
  cause: "probe-wild" | "probe-stuck",
  change: Finding["change"],
) => void;

function tellWild(
  { probeId, wild, wildTold, goodAtMs }: ProbeHealth,
  asksVisit: (sinceMs: number) => boolean,
  intervalMs: number,
  atMs: number,
  say: Say,
): ToldFault | null {
  if (wild === null) {
    if (wildTold !== null) say(wildTold, "probe-wild", "ended");
    return null;
  }
  const blindSinceMs = Math.max(goodAtMs, wildTold?.sinceMs ?? wild.sinceMs);
  const isBlind = atMs - blindSinceMs > 3 * intervalMs + BLIND_MS;
  const isMuch = wild.count >= WILD_MANY || isBlind;
  const urgency = isMuch && asksVisit(wildTold?.sinceMs ?? wild.sinceMs) ? "visit" : "note";
  if (wildTold === null) {
    const { sinceMs, why } = wild;
    const excursionId = excursionIdOf(probeId, "wild", sinceMs);
    const told: ToldFault = { excursionId, urgency, sinceMs, openedAtMs: atMs, why };
    say(told, "probe-wild", "opened");
    return told;
  }
  if (wildTold.urgency === "visit" || urgency === "note") return wildTold;
  const raised: ToldFault = { ...wildTold, urgency, openedAtMs: atMs, why: wild.why };
  say(raised, "probe-wild", "raised");
  return raised;
}

function tellStuck(
  health: ProbeHealth,
  probe: Probe,
  asksVisit: (sinceMs: number) => boolean,
  intervalMs: number,
  atMs: number,
  say: Say,
): ToldFault | null {
  const { probeId, sameSinceMs, stuckTold } = health;
  if (stuckTold !== null) {
    if (sameSinceMs === stuckTold.sinceMs) return stuckTold;
    say(stuckTold, "probe-stuck", "ended");
    return null;
  }
  if (!isStuck(health, probe.place, intervalMs)) return null;
  const told: ToldFault = {
    excursionId: excursionIdOf(probeId, "stuck", sameSinceMs),
    urgency: asksVisit(sameSinceMs) ? "visit" : "note",
    sinceMs: sameSinceMs,
    openedAtMs: atMs,
    why: stuckWords(health),
  };
  say(told, "probe-stuck", "opened");
  return told;
}

/** What it says, and what that is compared with. */
function stuckWords(health: ProbeHealth): string {
  const { saidC, saidPct, flatMs, sameSinceMs, knownSinceMs } = health;
  const said = [
    ...(saidC === null ? [] : [`${numberWords(saidC)} °C`]),
    ...(saidPct === null ? [] : [`${numberWords(saidPct)} % humidity`]),
  ].join(" and ");
  if (sameSinceMs <= knownSinceMs) return `${said} and nothing else since it was first heard`;
  if (flatMs === 0) return `${said} all the time`;
  const min = Math.ceil(flatMs / MINUTE_MS);
  const span = min < 90 ? `${min} min` : `${(flatMs / HOUR_MS).toFixed(1)} h`;
  return `${said} all the time; until then it rested for ${span} at the most`;
}
