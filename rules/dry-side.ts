import { type Finding, outranks } from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { HOUR_MS } from "../shared/time.js";
import type { Climate } from "./climate.js";
import type { DryAsk, Dryness } from "./dryness.js";
import { heldFor } from "./hold.js";
import { findingOf, type Lane, openLane, type Present } from "./lane.js";

const BACK_MS = 2 * HOUR_MS;

/** Move the dry side of a chamber on, by the driest of the places that speak for it. */
export function stepDry(
  lane: Lane | null,
  ask: DryAsk | null,
  dryness: Dryness,
  present: Present,
  chamber: Chamber,
  driest: Climate,
): { lane: Lane | null; findings: readonly Finding[] } {
  const { probeId, slowPct: cocoonHumidityPct } = driest;
  const beside = { cocoonHumidityPct, dryOnMs: dryness.trend?.atMs ?? null };
  const { low, high } = chamber.humidityBandPct;
  const comparedWith = `the humidity band of ${low} to ${high} %`;
  const saying = { comparedWith, forecast: null, beside };
  if (lane !== null && ask === null && heldFor(dryness.back, present.atMs, BACK_MS))
    return { lane: null, findings: [findingOf(lane, "ended", present, saying)] };
  if (ask === null || (lane !== null && !outranks(ask.urgency, lane.urgency)))
    return { lane, findings: [] };
  const { urgency, sinceMs } = ask;
  const base = lane ?? openLane("dry", "dry", urgency, probeId, sinceMs, present);
  const raised: Lane = { ...base, urgency, probeId };
  return {
    lane: raised,
    findings: [findingOf(raised, lane === null ? "opened" : "raised", present, saying)],
  };
}
