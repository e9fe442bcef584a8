import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Clock, systemClock } from "../clock.js";

/**
 * How a rehearsal's time runs: it showed `fromMs` when the machine's clock showed `atMs`, and goes
 * `speed` times as fast. Once the rehearsal is over it stands still.
 */
export type Pace = Readonly<{ fromMs: number; atMs: number; speed: number; stoodAtMs?: number }>;

/** The file in the store's folder that marks it as a rehearsal's, and says how its time runs. */
export const PACE_FILE = "rehearsal.json";

/** The clock of a rehearsal. */
export function fastClock({ fromMs, atMs, speed, stoodAtMs }: Pace): Clock {
  return {
    nowMs: () => stoodAtMs ?? Math.round(fromMs + (systemClock.nowMs() - atMs) * speed),
    monotonicMs: () => systemClock.monotonicMs() * speed,
  };
}

/** A clock that changes its pace when told to, and jumps neither then nor later. */
export function openHasteningClock(first: Pace): Clock & { hasten(speed: number): Pace } {
  let fast = fastClock(first);
  let aheadMs = 0;
  const nowMs = () => fast.nowMs();
  const monotonicMs = () => fast.monotonicMs() - aheadMs;
  const hasten = (speed: number): Pace => {
    const pace = { fromMs: nowMs(), atMs: systemClock.nowMs(), speed };
    const before = monotonicMs();
    fast = fastClock(pace);
    aheadMs = fast.monotonicMs() - before;
    return pace;
  };
  return { nowMs, monotonicMs, hasten };
}

/** Mark `folder` as a rehearsal's. */
export function writePace(folder: string, pace: Pace): void {
  writeFileSync(join(folder, PACE_FILE), `${JSON.stringify(pace)}\n`);
}

/** The clock that goes with a store: a rehearsal's own, the machine's for all others. */
export function siteClock(folder: string): Clock {
  try {
    return fastClock(JSON.parse(readFileSync(join(folder, PACE_FILE), "utf8")) as Pace);
  } catch {
    return systemClock;
  }
}
