import { HOUR_MS } from "../shared/time.js";
import type { AirWatch } from "./air-watch.js";
import { beginChamber, type ChamberState } from "./chamber-state.js";
import { NOTHING_GATHERED } from "./gathering.js";
import { JUDGE_VERSION, type JudgeState } from "./judge.js";
import type { Lane } from "./lane.js";

/**
 * The judge's memory as it was stored, brought to the present version; null where it cannot be
 * used, and the judgement must begin anew.
 *
 * What a winter cost stands in it and nowhere else, so what an older version lacked begins afresh
 * and the rest is kept.
 *
 * @param text a `JudgeState` as JSON, of this version or an older one
 */
export function recallJudge(text: string): JudgeState | null {
  const stored = parse(text);
  if (!isRecord(stored) || !Array.isArray(stored.chambers)) return null;
  if (!Array.isArray(stored.hearings)) return null;
  const { version } = stored;
  if (version === JUDGE_VERSION) return stored as JudgeState;
  if (typeof version !== "number" || version > JUDGE_VERSION) return null;
  const chambers = stored.chambers.flatMap((chamber: unknown) =>
    isRecord(chamber) && typeof chamber.chamberId === "string"
      ? [fromEarlier(chamber, chamber.chamberId, version)]
      : [],
  );
  const health = isRecord(stored.health) ? (stored.health as JudgeState["health"]) : NO_HEALTH;
  const hearings = (stored as JudgeState).hearings.map((hearing) => ({
    ...UNEXCUSED,
    ...hearing,
  }));
  return { ...(stored as JudgeState), version: JUDGE_VERSION, hearings, health, chambers };
}

/** Before the eighth long pauses were not listened for, before the eleventh all silence counted,
 * before the thirteenth no lapse was remembered. */
const UNEXCUSED = { longMs: null, excusedMs: 0, lapse: null };

/** A chamber as an earlier version remembered it; what it did not know begins afresh. */
function fromEarlier(
  stored: Record<string, unknown>,
  chamberId: string,
  version: number,
): ChamberState {
  const chamber = filled(beginChamber(chamberId), stored) as ChamberState;
  const { watch, heat, cold, slow } = chamber;
  return {
    ...chamber,
    watch: withTails(
      withDamp(withUsualBottom(version < RISES_WITH_VAPOUR ? withoutRises(watch) : watch)),
    ),
    heat: withWater(heat),
    cold: withWater(cold),
    // A slot under way is minutes; before the seventh its boxes did not say how long values stand.
    gathering: NOTHING_GATHERED,
    slow: { ...slow, places: slow.places.map((place) => ({ ...SEEN_EARLIER, ...place })) },
  };
}

/** Before the seventh: what every place had as its longest gap before it had one of its own. */
const SEEN_EARLIER = { seenMs: HOUR_MS };

/** What is there at the beginning, and of the stored what has its place in it. */
function filled(begun: unknown, stored: unknown): unknown {
  if (!isRecord(begun) || !isRecord(stored)) return stored === undefined ? begun : stored;
  const kept = Object.entries(begun).map(([key, value]) => [key, filled(value, stored[key])]);
  return Object.fromEntries(kept);
}

/** The version since which a rise is remembered with its vapour. */
const RISES_WITH_VAPOUR = 4;

/** Earlier versions remembered rises without their vapour, which the signs of a door compare. */
function withoutRises(watch: AirWatch): AirWatch {
  const told = watch.told === "door-ajar" ? null : watch.told;
  return { ...watch, rise: null, told, known: { ...watch.known, rises: [] } };
}

/** Versions before the sixth did not follow where the thermostat's falls end over many days. */
function withUsualBottom(watch: AirWatch): AirWatch {
  const { habit } = watch.cycle;
  if (habit === null) return watch;
  const known = { ...habit, usualBottomC: habit.usualBottomC ?? habit.bottomC };
  return { ...watch, cycle: { ...watch.cycle, habit: known } };
}

/** Versions before the twelfth noticed no rise by its vapour alone. */
function withDamp(watch: AirWatch): AirWatch {
  return watch.rise === null ? watch : { ...watch, rise: { ...NOT_DAMP, ...watch.rise } };
}

const NOT_DAMP = { damp: false };

/** Versions before the thirteenth did not follow a rise once it had turned. */
function withTails(watch: AirWatch): AirWatch {
  const { rise, known } = watch;
  const level = rise && { levelSinceMs: rise.peakAtMs, levelC: rise.peakC };
  return {
    ...watch,
    rise: rise && { ...NO_TAIL, ...level, ...rise },
    known: { ...known, rises: known.rises.map((past) => ({ ...NO_TAIL, ...past })) },
  };
}

const NO_TAIL = { tail: [], hpaTail: [] };

/** Versions before the fifth knew nothing of how well probes measure. */
const NO_HEALTH: JudgeState["health"] = { probes: [], partings: [] };

const NO_WATER = { wetHours: 0, mouldIndex: 0 };

/** The first version's excursions knew nothing of water. */
function withWater(lane: Lane | null): Lane | null {
  return lane && { ...lane, from: { ...NO_WATER, ...lane.from } };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
