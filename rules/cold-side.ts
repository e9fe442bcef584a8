import { type Finding, outranks } from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { MINUTE_MS } from "../shared/time.js";
import type { ChamberState } from "./chamber-state.js";
import { chillUrgency } from "./chill.js";
import { heldFor } from "./hold.js";
import { findingOf, type Lane, openLane, type Present } from "./lane.js";
import { foretellCooling } from "./outlook.js";

const BACK_MS = 60 * MINUTE_MS;

/** Move the cold side of a chamber on. */
export function stepCold(
  state: ChamberState,
  present: Present,
  chamber: Chamber,
): { lane: Lane | null; findings: readonly Finding[] } {
  const { atMs } = present;
  const lane = state.cold;
  const asked = chillUrgency(state.chill, atMs);
  if (lane !== null && heldFor(state.chill.back, atMs, BACK_MS)) {
    const saying = { comparedWith: comparison(chamber), forecast: null };
    return { lane: null, findings: [findingOf(lane, "ended", present, saying)] };
  }
  if (asked === null || (lane !== null && !outranks(asked, lane.urgency)))
    return { lane, findings: [] };
  const startedAtMs = state.chill.below ?? state.chill.sunk ?? state.chill.nearFrost ?? atMs;
  const opened =
    lane ?? openLane("chill", "over-cooling", asked, state.leadId, startedAtMs, present);
  const raised = { ...opened, urgency: asked };
  const forecast = foretellCooling(present, state, chamber);
  const saying = { comparedWith: comparison(chamber), forecast };
  const change = lane === null ? "opened" : "raised";
  return { lane: raised, findings: [findingOf(raised, change, present, saying)] };
}

function comparison(chamber: Chamber): string {
  return `the lower edge of the wintering band, ${chamber.bandC.low} °C`;
}
