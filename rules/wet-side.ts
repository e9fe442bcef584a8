import { type Cause, type Finding, outranks } from "../shared/excursion.js";
import type { ClimateLimits } from "../shared/site.js";
import { HOUR_MS } from "../shared/time.js";
import type { DampAsk, Dampness } from "./dampness.js";
import { heldFor } from "./hold.js";
import { findingOf, type Lane, openLane, type Present, type Saying } from "./lane.js";

type Side = Readonly<{ lane: Lane | null; findings: readonly Finding[] }>;

/** Nothing must have asked for so long before it is over; our choice, as damp comes and goes by days. */
const OVER_MS = 24 * HOUR_MS;

/**
 * Move the damp side of a chamber on: damp, water on the cocoons, mould.
 *
 * @param probeId the probe that it is known by; null where it is reckoned from the air
 * @param dampedMs when the keeper damped the paper, where that is the last thing they did to it
 */
export function stepWet(
  lane: Lane | null,
  ask: DampAsk | null,
  dampness: Dampness,
  present: Present,
  limits: ClimateLimits,
  probeId: string | null,
  dampedMs: number | null,
): Side {
  const beside = { dampedMs };
  if (lane !== null && heldFor(dampness.calm, present.atMs, OVER_MS)) {
    const saying = { ...sayingOf(lane.cause, limits), beside };
    return { lane: null, findings: [findingOf(lane, "ended", present, saying)] };
  }
  if (ask === null) return { lane, findings: [] };
  if (lane !== null && !isMore(ask, lane)) return { lane: rested(lane, ask), findings: [] };
  const { cause, urgency } = ask;
  const base = lane ?? begin(ask, probeId, present);
  const raised: Lane = { ...base, cause, urgency, probeId };
  const saying = { ...sayingOf(cause, limits), beside };
  const finding = findingOf(raised, lane === null ? "opened" : "raised", present, saying);
  return { lane: raised, findings: [finding] };
}

function begin(
  { cause, urgency, sinceMs }: DampAsk,
  probeId: string | null,
  present: Present,
): Lane {
  const lane = openLane("damp", cause, urgency, probeId, sinceMs, present);
  if (cause !== "condensation") return lane;
  // Water is told of hours after it came; those hours are its cost as well.
  const wetHours = Math.max(0, lane.from.wetHours - (present.atMs - sinceMs) / HOUR_MS);
  return { ...lane, from: { ...lane.from, wetHours } };
}

/** Mould that asks no more, since the keeper looked, is news again once it does. */
function rested(lane: Lane, { cause }: DampAsk): Lane {
  return lane.cause === "mould" && cause !== "mould" ? { ...lane, cause } : lane;
}

/** Mould is news in a damp box, damp is none in a mouldy one. */
function isMore(ask: DampAsk, lane: Lane): boolean {
  if (outranks(ask.urgency, lane.urgency)) return true;
  return ask.urgency === lane.urgency && ask.cause === "mould" && lane.cause !== "mould";
}

function sayingOf(cause: Cause, limits: ClimateLimits): Saying {
  return { comparedWith: comparisonOf(cause, limits), forecast: null };
}

function comparisonOf(cause: Cause, { dampPct, wetHoldMs, mouldIndex }: ClimateLimits): string {
  if (cause === "mould")
    return `index ${mouldIndex.low} and ${mouldIndex.high} of the mould model, whose scale goes from 0 to 6`;
  if (cause === "condensation")
    return `the dew point of the air, and ${wetHoldMs / HOUR_MS} hours in which water should have dried`;
  return `${dampPct.low} and ${dampPct.high} % humidity at the cocoons`;
}
