import { type Finding, outranks, type Urgency } from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { DAY_MS, MINUTE_MS } from "../shared/time.js";
import type { ChamberState } from "./chamber-state.js";
import { chillUrgency, FROST_SOON_C, plunges } from "./chill.js";
import { heldFor } from "./hold.js";
import { findingOf, type Lane, openLane, type Present } from "./lane.js";
import { foretellCooling } from "./outlook.js";

const BACK_MS = 60 * MINUTE_MS;
/** Cold that comes again so soon and hardly deeper is what the keeper was told; our choice. */
const AGAIN_MS = 7 * DAY_MS;
const DEEPER_K = 0.3;

/** Move the cold side of a chamber on. */
export function stepCold(
  state: ChamberState,
  present: Present,
  chamber: Chamber,
): { lane: Lane | null; findings: readonly Finding[] } {
  const { atMs } = present;
  const lane = state.cold;
  const asked = askedOf(state, present);
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

/** What the cold asks; only a note where a fridge takes the cocoons as low as it did days ago. */
function askedOf(state: ChamberState, { atMs, cocoonC }: Present): Urgency | null {
  const { chill, coldUntilMs, toldColdC } = state;
  const asked = chillUrgency(chill, atMs);
  if (asked !== "visit" || toldColdC === null || cocoonC === null) return asked;
  const isAgain = atMs - coldUntilMs < AGAIN_MS && cocoonC > toldColdC - DEEPER_K;
  const isShallow = Math.min(toldColdC, cocoonC) > FROST_SOON_C;
  return isAgain && isShallow && !plunges(chill, atMs) ? "note" : asked;
}

function comparison(chamber: Chamber): string {
  return `the lower edge of the wintering band, ${chamber.bandC.low} °C`;
}
