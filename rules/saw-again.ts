import type { DarkStretch, Finding } from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { presentOf } from "./chamber.js";
import type { ChamberState } from "./chamber-state.js";
import { freshBoxC } from "./cocoon.js";
import { cocoonLagOf, warmingOf } from "./constants.js";
import type { Gap } from "./dark.js";
import type { Exposure } from "./exposure.js";
import { lateOf } from "./heat-side.js";
import { type Heard, shortestFreshMs } from "./lead-air.js";
import { seenWithin } from "./mute.js";
import { roomSpan } from "./outlook.js";
import { addGap, DARK_LEAST_MS, stretchOf } from "./unseen.js";

const NONE: readonly Finding[] = [];

/** After a stretch that nobody saw, say what it may have held, before anything is judged. */
export function sawAgain(
  state: ChamberState,
  airBeforeC: number | null,
  heard: readonly Heard[],
  atMs: number,
  chamber: Chamber,
): Readonly<{ state: ChamberState; findings: readonly Finding[] }> {
  const { exposure, cocoon } = state;
  if (exposure === null || cocoon.cocoonC === null) return { state, findings: NONE };
  const gapMs = atMs - exposure.atMs;
  if (gapMs <= seenWithin(shortestFreshMs(heard), DARK_LEAST_MS)) return { state, findings: NONE };
  const afterC = freshBoxC(cocoon, atMs) === null ? null : cocoon.cocoonC;
  const gap = gapOf(state, exposure, airBeforeC, gapMs, afterC, chamber);
  const present = presentOf(state, cocoon.cocoonC, atMs);
  const beside = { late: lateOf(present, chamber) };
  const back = isBack(state, atMs, chamber);
  const { unseen, findings } = addGap(state.unseen, gap, back, present, beside);
  return { state: { ...state, unseen }, findings };
}

/** The dark that a chamber is still in, and what its cocoons can have reached; null while it is seen. */
export function darkNow(state: ChamberState, atMs: number, chamber: Chamber): DarkStretch | null {
  const { exposure } = state;
  const seenMs = seenWithin(state.gathering.freshMs, DARK_LEAST_MS);
  if (exposure === null || atMs - exposure.atMs <= seenMs) return null;
  const gap = gapOf(state, exposure, state.airC, atMs - exposure.atMs, null, chamber);
  return stretchOf(gap, atMs);
}

function gapOf(
  { roomC, learning }: ChamberState,
  { cocoonC }: Exposure,
  airBeforeC: number | null,
  gapMs: number,
  afterC: number | null,
  chamber: Chamber,
): Gap {
  const airC = airBeforeC ?? cocoonC;
  return {
    gapMs,
    cocoonC,
    airC,
    afterC,
    roomC: roomSpan(roomC, airC),
    warmingMs: warmingOf(learning.warming).spanMs,
    cocoonLagMs: cocoonLagOf(chamber, learning.lag).spanMs,
    band: chamber.bandC,
    mayHaveCooled: true,
  };
}

/** So far above its usual top the air is not back, K; our choice. */
const BACK_K = 0.5;

/** Whether the cocoons, where a probe lies among them, and the air are where they usually are. */
function isBack({ cocoon, watch, airC }: ChamberState, atMs: number, chamber: Chamber): boolean {
  const { high } = chamber.bandC;
  const topC = watch.cycle.habit?.topC ?? high;
  return (freshBoxC(cocoon, atMs) ?? high) <= high && (airC ?? topC) <= topC + BACK_K;
}
