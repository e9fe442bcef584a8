import { DAY_MS, isSaneClock, MINUTE_MS } from "../shared/time.js";
import type { SensorTime } from "./measurement.js";

/** How far a sensor's clock may run ahead of ours. Our choice. */
const AHEAD_MS = 10 * MINUTE_MS;
/** No sensor's time is believed from here on, even while we have no time to hold it against. */
const SANE_UNTIL_MS = Date.UTC(2100, 0, 1);
/** The oldest reading that may wait for our clock to be set; one winter is shorter. Our choice. */
const LONGEST_AGE_MS = 366 * DAY_MS;

/** What a message's arrival has to do with the times in it. */
export type ArrivalTime = Readonly<{
  /** Our own clock at arrival, Unix ms. */
  arrivedAtMs: number;
  /** Whether that clock is set. */
  clockSane: boolean;
  /** Whether the broker kept the message from an earlier time that nobody knows. */
  retained: boolean;
}>;

/** When a reading was taken. */
export type Stamp =
  | Readonly<{ kind: "at"; atMs: number }>
  /** So long before it arrived, which was at a time that we do not know yet. */
  | Readonly<{ kind: "untimed"; ageMs: number }>
  | Readonly<{ kind: "refused"; reason: "stale-retained" | "time-unknown"; detail: string }>;

/**
 * Say when each measurement of one message was taken; the answers are in the order of `times`.
 *
 * The sensor's own time counts where it is sane: not before 2024 and, by a clock of ours that is
 * set, not over ten minutes ahead. A time counted back from the moment of sending is taken from
 * the arrival. Anything else is a clock that was never set, or none. Such a clock may still run
 * well, so the newest of these is taken to be from the arrival and the others keep their
 * distance from it. A retained message arrives at any time, so there only an own time counts.
 */
export function stampMeasurements(
  times: readonly (SensorTime | null)[],
  arrival: ArrivalTime,
): readonly Stamp[] {
  let newestUnsetMs = Number.NEGATIVE_INFINITY;
  for (const time of times) {
    if (time !== null && !isUsable(time, arrival)) {
      newestUnsetMs = Math.max(newestUnsetMs, shownMs(time));
    }
  }
  return times.map((time) => {
    if (time?.kind === "absolute" && isUsable(time, arrival))
      return { kind: "at", atMs: time.atMs };
    if (arrival.retained) {
      const detail = time === null ? "no time in it" : `its time is ${describeTime(time)}`;
      return { kind: "refused", reason: "stale-retained", detail: `retained, and ${detail}` };
    }
    if (time === null) return stampFromArrival(0, arrival);
    return stampFromArrival((isUsable(time, arrival) ? 0 : newestUnsetMs) - shownMs(time), arrival);
  });
}

/** What the sensor's clock showed, ms from whatever it counts from. */
function shownMs(time: SensorTime): number {
  return time.kind === "absolute" ? time.atMs : time.offsetMs;
}

function isUsable(time: SensorTime, { arrivedAtMs, clockSane }: ArrivalTime): boolean {
  // A measurement from the future is a count since power-on, which SenML cannot tell from it.
  if (time.kind === "relative") return time.offsetMs <= 0;
  if (!isSaneClock(time.atMs)) return false;
  return clockSane ? time.atMs <= arrivedAtMs + AHEAD_MS : time.atMs < SANE_UNTIL_MS;
}

function stampFromArrival(ageMs: number, { arrivedAtMs, clockSane }: ArrivalTime): Stamp {
  const atMs = arrivedAtMs - ageMs;
  if (clockSane && isSaneClock(atMs)) return { kind: "at", atMs };
  if (!clockSane && ageMs <= LONGEST_AGE_MS) return { kind: "untimed", ageMs };
  const detail = `it would be ${Math.round(ageMs / MINUTE_MS)} min old`;
  return { kind: "refused", reason: "time-unknown", detail };
}

function describeTime(time: SensorTime): string {
  if (time.kind === "relative") return `${time.offsetMs / 1000} s from sending`;
  return `${time.atMs} ms from 1970`;
}
