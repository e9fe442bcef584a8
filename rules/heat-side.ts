import {
  type Beside,
  type Cause,
  type Finding,
  outranks,
  type Urgency,
} from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import type { AirNews } from "./air-watch.js";
import type { ChamberState } from "./chamber-state.js";
import { heldFor } from "./hold.js";
import { findingOf, type Lane, openLane, type Present } from "./lane.js";
import { lateWarmth, urgencyLate } from "./late-warmth.js";
import { foretellWarming } from "./outlook.js";
import { profileIn } from "./species.js";
import { warmthUrgency } from "./warmth.js";

/** A fridge has had time to recover by then, our choice. */
const RECOVERY_MS = 12 * HOUR_MS;

type Side = Readonly<{ lane: Lane | null; findings: readonly Finding[] }>;

/** Move the warm side of a chamber on: what the air told, then what the cocoons feel. */
export function stepHeat(
  state: ChamberState,
  news: readonly AirNews[],
  present: Present,
  chamber: Chamber,
): Side {
  let lane = state.heat;
  const findings: Finding[] = [];
  for (const item of news) {
    if (item.kind === "told") {
      if (lane !== null && isOfAir(lane) && lane.overAtMs !== null) {
        findings.push(end(lane, present));
        lane = null;
      }
      const change = lane === null ? "opened" : "raised";
      const base =
        lane ?? openLane("heat", item.cause, "rush", state.leadId, item.sinceMs, present);
      lane = { ...base, cause: item.cause, urgency: "rush", probeId: state.leadId, overAtMs: null };
      findings.push(tell(lane, change, state, present, chamber));
    } else if (item.cause === "opening" || item.cause === "defrost") {
      findings.push(...noteOf(item.cause, item.sinceMs, state, present));
    } else if (lane !== null) lane = { ...lane, overAtMs: item.untilMs };
  }
  const step = byWarmth(lane, state, present, chamber);
  return findings.length === 0
    ? step
    : { lane: step.lane, findings: [...findings, ...step.findings] };
}

function byWarmth(
  lane: Lane | null,
  state: ChamberState,
  present: Present,
  chamber: Chamber,
): Side {
  const { atMs } = present;
  const asked = lateUrgency(warmthUrgency(state.warmth, atMs), present, chamber);
  if (lane === null) {
    // A rise under way will be told by its cause, or turn out to be ordinary.
    const waits = state.watch.rise !== null && !state.watch.rise.turned;
    if (asked === null || (asked === "note" && waits)) return { lane: null, findings: [] };
    const startedAtMs = state.warmth.above ?? state.warmth.hot ?? atMs;
    const opened = openLane("heat", "warm", asked, state.leadId, startedAtMs, present);
    return { lane: opened, findings: [tell(opened, "opened", state, present, chamber)] };
  }
  // Not before the warmth itself has let go: else it would open one of its own at once.
  const isHome = state.warmth.above === null && (!isOfAir(lane) || lane.overAtMs !== null);
  if (isHome && (isOfAir(lane) || heldFor(state.warmth.back, atMs, 30 * MINUTE_MS)))
    return { lane: null, findings: [end(lane, present)] };
  if (isOfAir(lane) && lane.overAtMs !== null && atMs - lane.overAtMs > RECOVERY_MS) {
    const warm: Lane = { ...lane, cause: "warm", urgency: asked ?? "note", overAtMs: null };
    return { lane: warm, findings: [tell(warm, "raised", state, present, chamber)] };
  }
  if (asked === null || isOfAir(lane) || !outranks(asked, lane.urgency))
    return { lane, findings: [] };
  const raised = { ...lane, urgency: asked };
  return { lane: raised, findings: [tell(raised, "raised", state, present, chamber)] };
}

/** Late in winter the same warmth weighs more. */
function lateUrgency(asked: Urgency | null, present: Present, chamber: Chamber): Urgency | null {
  const { chillDays, cocoonC } = present;
  if (asked === null || chillDays === null || cocoonC === null) return asked;
  return urgencyLate(asked, chillDays, cocoonC, profileIn(chamber));
}

const isOfAir = (lane: Lane): boolean => lane.cause !== "warm";

/** An opening or a defrost, told when it is over: a line for the digest. */
function noteOf(
  cause: Cause,
  sinceMs: number,
  state: ChamberState,
  present: Present,
): readonly Finding[] {
  const lane = openLane("heat", cause, "note", state.leadId, sinceMs, present);
  const saying = { comparedWith: "this fridge's own openings and defrosts", forecast: null };
  return [findingOf(lane, "opened", present, saying), findingOf(lane, "ended", present, saying)];
}

function tell(
  lane: Lane,
  change: "opened" | "raised",
  state: ChamberState,
  present: Present,
  chamber: Chamber,
): Finding {
  const forecast = foretellWarming(present, state, chamber, lane.cause);
  const beside = { late: lateOf(present, chamber, forecast?.settlesAtC.high) };
  const comparedWith = comparisonOf(lane, chamber);
  return findingOf(lane, change, present, { comparedWith, forecast, beside });
}

/** What warmth may do to bees that have had their chill; null while they sleep on. */
export function lateOf(
  present: Present,
  chamber: Chamber,
  settlesAtC = 0,
): NonNullable<Beside["late"]> | null {
  const { chillDays, cocoonC } = present;
  if (chillDays === null || cocoonC === null) return null;
  const warmestC = Math.max(cocoonC, settlesAtC);
  const { sleep, soonestDays } = lateWarmth(chillDays, warmestC, profileIn(chamber));
  return sleep === "asleep" ? null : { chillDays, soonestDays, sleep };
}

function end(lane: Lane, present: Present): Finding {
  const saying = { comparedWith: "the wintering band and this fridge's own habit", forecast: null };
  return findingOf(lane, "ended", present, saying);
}

function comparisonOf(lane: Lane, chamber: Chamber): string {
  if (lane.cause === "door-ajar") return "this fridge's own openings and defrosts";
  if (lane.cause === "cooling-lost")
    return "the moment at which this fridge usually starts to cool";
  return `the upper edge of the wintering band, ${chamber.bandC.high} °C`;
}
