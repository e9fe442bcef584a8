import { type AirWatch, beginAirWatch } from "./air-watch.js";
import { type Chill, NOT_CHILLED } from "./chill.js";
import { beginCocoon, type CocoonState } from "./cocoon.js";
import type { Exposure } from "./exposure.js";
import { type Gathering, NOTHING_GATHERED } from "./gathering.js";
import type { HumidityAlone, Warm } from "./humidity-alone.js";
import type { Lane } from "./lane.js";
import type { Heard } from "./lead-air.js";
import { BEGIN_LEARNING, type Learning } from "./learning.js";
import { BEGIN_SLOW, type Slow } from "./slow.js";
import { type Tended, UNTENDED } from "./tended.js";
import { ALL_SEEN, type Unseen } from "./unseen.js";
import { AT_EASE, type Warmth } from "./warmth.js";

/** All that is remembered of one chamber. */
export type ChamberState = Readonly<{
  chamberId: string;
  /** The air probe whose course is followed; another takes over only when it falls silent. */
  leadId: string | null;
  leadUntilMs: number;
  watch: AirWatch;
  cocoon: CocoonState;
  exposure: Exposure | null;
  warmth: Warmth;
  chill: Chill;
  heat: Lane | null;
  cold: Lane | null;
  airC: number | null;
  humidityPct: number | null;
  /** The room, and how long that stands for the present. */
  roomC: number | null;
  roomUntilMs: number;
  /** When the last cold excursion was still open, ms; 0 before the first. */
  coldUntilMs: number;
  /** How cold the cocoons were in the last cold that cost a letter, °C; null before the first. */
  toldColdC: number | null;
  tended: Tended;
  gathering: Gathering;
  slow: Slow;
  learning: Learning;
  unseen: Unseen;
  /** Probes that measure humidity alone, in order of their ids. */
  alone: readonly HumidityAlone[];
}>;

export function beginChamber(chamberId: string): ChamberState {
  return {
    chamberId,
    leadId: null,
    leadUntilMs: 0,
    watch: beginAirWatch(),
    cocoon: beginCocoon(),
    exposure: null,
    warmth: AT_EASE,
    chill: NOT_CHILLED,
    heat: null,
    cold: null,
    airC: null,
    humidityPct: null,
    roomC: null,
    roomUntilMs: 0,
    coldUntilMs: 0,
    toldColdC: null,
    tended: UNTENDED,
    gathering: NOTHING_GATHERED,
    slow: BEGIN_SLOW,
    learning: BEGIN_LEARNING,
    unseen: ALL_SEEN,
    alone: [],
  };
}

/** What the humidity of the moment can be paired with: the air, or the cocoons where no air is known. */
export function warmsOf(state: ChamberState, airs: readonly Heard[]): readonly Warm[] {
  const warms: Warm[] = airs.map((air) => ({ atMs: air.atMs, c: air.temperatureC }));
  const { cocoon, exposure } = state;
  if (state.airC !== null) warms.push({ atMs: cocoon.airAtMs, c: cocoon.airC });
  else if (cocoon.cocoonC !== null && exposure !== null)
    warms.push({ atMs: exposure.atMs, c: cocoon.cocoonC });
  return warms;
}
