import type { Forecast } from "../shared/excursion.js";
import type { Chamber, Span } from "../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import type { AirWatch } from "./air-watch.js";
import { ASSUMED_LAG_MS } from "./cocoon.js";
import { foretell } from "./forecast.js";
import type { Present } from "./lane.js";
import { NEVER_SUITABLE_C } from "./never-suitable.js";
import type { Rise } from "./rise.js";

/** A household room in winter where no probe tells, °C; our choice. */
const ROOM_UNKNOWN_C: Span = { low: 14, high: 23 };
/** A fridge with a dead compressor and a shut door, time constant; our choice, from 3 to 16 h. */
const SHUT_LAG_MS: Span = { low: 3 * HOUR_MS, high: 16 * HOUR_MS };
/** Air in an open fridge, time constant; our choice. */
const OPEN_LAG_MS: Span = { low: 2 * MINUTE_MS, high: 12 * MINUTE_MS };
/** Middle of the minutes whose mean warming a rise keeps as `early`. */
const EARLY_MIDDLE_MS = 2 * MINUTE_MS;
/** A slope that has fallen by less than this since then tells nothing of where it ends. */
const FALLS_LEAST = 1.2;
/** How far off a fitted time constant may be, as a factor; our choice. */
const FIT_DOUBT = 1.6;
/** How far off a lag that nobody set may be; our choice. */
const LAG_DOUBT = 2;

function roomSpan(roomC: number | null, airC: number): Span {
  if (roomC !== null) return { low: Math.max(airC, roomC - 1), high: Math.max(airC, roomC + 1) };
  return { low: Math.max(airC, ROOM_UNKNOWN_C.low), high: Math.max(airC, ROOM_UNKNOWN_C.high) };
}

function cocoonLagSpan(chamber: Chamber): Span {
  const set = chamber.cocoonLagMs;
  if (set !== null) return { low: set / 1.25, high: set * 1.25 };
  return { low: ASSUMED_LAG_MS / LAG_DOUBT, high: ASSUMED_LAG_MS * LAG_DOUBT };
}

/** How the air goes on warming: where it settles, and the time constant of its way there. */
type Warming = Readonly<{ settlesAtC: Span; airLagMs: Span }>;

/**
 * Air in an open fridge: fitted to an exponential approach, whose slope falls by a factor e in each
 * time constant, from the early slope of the rise and the present one.
 */
function openFridge(airC: number, rise: Rise, room: Span): Warming {
  const now = rise.before[rise.before.length - 1]!;
  // The early slope belongs to the middle of the early minutes, the present one to this minute.
  const apartMs = Math.max(now.atMs - rise.onsetMs - EARLY_MIDDLE_MS, MINUTE_MS);
  const slope = Math.max(rise.slope, 0.02);
  const fittedMs = apartMs / Math.log(Math.max(rise.early / slope, FALLS_LEAST));
  const lagMs = Math.min(OPEN_LAG_MS.high, Math.max(OPEN_LAG_MS.low, fittedMs));
  const leftC = (slope * lagMs) / MINUTE_MS;
  const low = Math.min(Math.max(airC, rise.peakC), room.high);
  // Walls and food warm after the air, so it creeps on beyond what the first minutes show.
  const high = Math.min(room.high, low + 2 * leftC + 0.25 * (low - rise.baseC));
  return {
    settlesAtC: { low, high: Math.max(low, high) },
    airLagMs: { low: lagMs / FIT_DOUBT, high: lagMs * FIT_DOUBT },
  };
}

/** Air in a shut fridge that no longer cools: towards the room, as fast as it warms now. */
function shutFridge(airC: number, watch: AirWatch, room: Span): Warming {
  const { recent } = watch;
  const first = recent[0];
  const last = recent[recent.length - 1];
  if (first === undefined || last === undefined || last.atMs - first.atMs < 8 * MINUTE_MS)
    return { settlesAtC: room, airLagMs: SHUT_LAG_MS };
  const slope = (last.airC - first.airC) / (last.atMs - first.atMs);
  const lagOf = (roomC: number) =>
    slope <= 0 ? SHUT_LAG_MS.high : Math.max(roomC - airC, 0.5) / slope;
  const bound = (ms: number) => Math.min(SHUT_LAG_MS.high, Math.max(SHUT_LAG_MS.low, ms));
  const low = bound(lagOf(room.low) / FIT_DOUBT);
  return {
    settlesAtC: room,
    airLagMs: { low, high: Math.max(low, bound(lagOf(room.high) * FIT_DOUBT)) },
  };
}

/** Where warming cocoons are heading: the band's edge and the warmth that is never suitable. */
export function foretellWarming(
  present: Present,
  watch: AirWatch,
  chamber: Chamber,
  roomC: number | null,
  cause: string,
): Forecast | null {
  const { cocoonC, airC } = present;
  if (cocoonC === null || airC === null) return null;
  const room = roomSpan(roomC, airC);
  const { rise } = watch;
  const warming =
    cause === "door-ajar" && rise !== null
      ? openFridge(airC, rise, room)
      : shutFridge(airC, watch, room);
  return foretell({ cocoonC, airC, ...warming, cocoonLagMs: cocoonLagSpan(chamber) }, [
    chamber.bandC.high,
    NEVER_SUITABLE_C,
  ]);
}

/** Where cooling cocoons are heading: the band's edge and 0 °C. */
export function foretellCooling(
  present: Present,
  watch: AirWatch,
  chamber: Chamber,
): Forecast | null {
  const { cocoonC, airC } = present;
  if (cocoonC === null || airC === null) return null;
  const recent = watch.recent;
  const coldest = recent.reduce((low, s) => Math.min(low, s.airC), airC);
  const mean = recent.reduce((sum, s) => sum + s.airC, 0) / Math.max(1, recent.length);
  return foretell(
    {
      cocoonC,
      airC,
      settlesAtC: { low: coldest - 4, high: mean },
      airLagMs: { low: 0.5 * HOUR_MS, high: 4 * HOUR_MS },
      cocoonLagMs: cocoonLagSpan(chamber),
    },
    [chamber.bandC.low, 0],
  );
}
