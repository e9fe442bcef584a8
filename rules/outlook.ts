import type { Forecast } from "../shared/excursion.js";
import type { Chamber, Span } from "../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import type { AirWatch } from "./air-watch.js";
import { cocoonLagOf, warmingOf } from "./constants.js";
import { foretell } from "./forecast.js";
import type { Present } from "./lane.js";
import type { Learning } from "./learning.js";
import { NEVER_SUITABLE_C } from "./never-suitable.js";
import type { Rise } from "./rise.js";

/** A household room in winter where no probe tells, °C; our choice. */
const ROOM_UNKNOWN_C: Span = { low: 14, high: 23 };
/** Air in an open fridge, time constant; our choice. */
const OPEN_LAG_MS: Span = { low: 2 * MINUTE_MS, high: 12 * MINUTE_MS };
/** Middle of the minutes whose mean warming a rise keeps as `early`. */
const EARLY_MIDDLE_MS = 2 * MINUTE_MS;
/** A slope that has fallen by less than this since then tells nothing of where it ends. */
const FALLS_LEAST = 1.2;
/** How far off a fitted time constant may be, as a factor; our choice. */
const FIT_DOUBT = 1.6;

/** Where the room's warmth may lie, °C, never below the air: measured, else assumed. */
export function roomSpan(roomC: number | null, airC: number): Span {
  if (roomC !== null) return { low: Math.max(airC, roomC - 1), high: Math.max(airC, roomC + 1) };
  return { low: Math.max(airC, ROOM_UNKNOWN_C.low), high: Math.max(airC, ROOM_UNKNOWN_C.high) };
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
function shutFridge(airC: number, { recent }: AirWatch, room: Span, usualMs: Span): Warming {
  const first = recent[0];
  const last = recent[recent.length - 1];
  if (first === undefined || last === undefined || last.atMs - first.atMs < 8 * MINUTE_MS)
    return { settlesAtC: room, airLagMs: usualMs };
  const slope = (last.airC - first.airC) / (last.atMs - first.atMs);
  const lagOf = (roomC: number) =>
    slope <= 0 ? usualMs.high : Math.max(roomC - airC, 0.5) / slope;
  const bound = (ms: number) => Math.min(usualMs.high, Math.max(usualMs.low, ms));
  const low = bound(lagOf(room.low) / FIT_DOUBT);
  return {
    settlesAtC: room,
    airLagMs: { low, high: Math.max(low, bound(lagOf(room.high) * FIT_DOUBT)) },
  };
}

/** What of a chamber's memory its outlook rests on. */
type Basis = Readonly<{ watch: AirWatch; roomC: number | null; learning: Learning }>;

/** Where warming cocoons are heading: the band's edge and the warmth that is never suitable. */
export function foretellWarming(
  present: Present,
  { watch, roomC, learning }: Basis,
  chamber: Chamber,
  cause: string,
): Forecast | null {
  const { cocoonC, airC } = present;
  if (cocoonC === null || airC === null) return null;
  const room = roomSpan(roomC, airC);
  const { rise } = watch;
  const usualMs = warmingOf(learning.warming).spanMs;
  const cocoonLagMs = cocoonLagOf(chamber, learning.lag).spanMs;
  const warming =
    cause === "door-ajar" && rise !== null
      ? openFridge(airC, rise, room)
      : shutFridge(airC, watch, room, usualMs);
  return foretell({ cocoonC, airC, ...warming, cocoonLagMs }, [
    chamber.bandC.high,
    NEVER_SUITABLE_C,
  ]);
}

/** Where cooling cocoons are heading: the band's edge and 0 °C. */
export function foretellCooling(
  present: Present,
  { watch, learning }: Pick<Basis, "watch" | "learning">,
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
      cocoonLagMs: cocoonLagOf(chamber, learning.lag).spanMs,
    },
    [chamber.bandC.low, 0],
  );
}
