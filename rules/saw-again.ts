import type { Finding } from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { type ChamberState, presentOf } from "./chamber.js";
import { freshBoxC } from "./cocoon.js";
import { cocoonLagOf, warmingOf } from "./constants.js";
import { lateOf } from "./heat-side.js";
import type { Heard } from "./lead-air.js";
import { roomSpan } from "./outlook.js";
import { addGap, DARK_LEAST_MS } from "./unseen.js";

const NONE: readonly Finding[] = [];

/** After a stretch that nobody saw, say what it may have held, before anything is judged. */
export function sawAgain(
  state: ChamberState,
  airBeforeC: number | null,
  heard: readonly Heard[],
  atMs: number,
  chamber: Chamber,
): Readonly<{ state: ChamberState; findings: readonly Finding[] }> {
  const { exposure, cocoon, learning } = state;
  if (exposure === null || cocoon.cocoonC === null) return { state, findings: NONE };
  const gapMs = atMs - exposure.atMs;
  if (gapMs <= DARK_LEAST_MS || heard.every((h) => gapMs <= h.freshMs))
    return { state, findings: NONE };
  const fromC = airBeforeC ?? exposure.cocoonC;
  const gap = {
    gapMs,
    cocoonC: exposure.cocoonC,
    airC: fromC,
    afterC: freshBoxC(cocoon, atMs) === null ? null : cocoon.cocoonC,
    roomC: roomSpan(state.roomC, fromC),
    warmingMs: warmingOf(learning.warming).spanMs,
    cocoonLagMs: cocoonLagOf(chamber, learning.lag).spanMs,
    band: chamber.bandC,
    mayHaveCooled: true,
  };
  const present = presentOf(state, cocoon.cocoonC, atMs);
  const beside = { late: lateOf(present, chamber) };
  const { unseen, findings } = addGap(
    state.unseen,
    gap,
    isBack(state, atMs, chamber),
    present,
    beside,
  );
  return { state: { ...state, unseen }, findings };
}

/** So far above its usual top the air is not back, K; our choice. */
const BACK_K = 0.5;

/** Whether the cocoons, where a probe lies among them, and the air are where they usually are. */
function isBack({ cocoon, watch, airC }: ChamberState, atMs: number, chamber: Chamber): boolean {
  const { high } = chamber.bandC;
  const topC = watch.cycle.habit?.topC ?? high;
  return (freshBoxC(cocoon, atMs) ?? high) <= high && (airC ?? topC) <= topC + BACK_K;
}
