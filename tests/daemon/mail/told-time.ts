import { setTimeout as sleep } from "node:timers/promises";
import type { Clock } from "../../../daemon/clock.js";
import type { After } from "../../../daemon/mail/outbox.js";

/** A clock that stands still until it is told to go on, with the timers that hang on it. */
export function toldTime(startMs: number) {
  let goneMs = 0;
  let timers: { atMs: number; work: () => void }[] = [];
  const clock: Clock = { nowMs: () => startMs + goneMs, monotonicMs: () => goneMs };
  const after: After = (waitMs, work) => {
    const timer = { atMs: goneMs + waitMs, work };
    timers.push(timer);
    return () => {
      timers = timers.filter((other) => other !== timer);
    };
  };
  return {
    clock,
    after,
    /** Timers that now wait, soonest first, as ms from now. */
    waiting: (): number[] => timers.map(({ atMs }) => atMs - goneMs).sort((a, b) => a - b),
    /** Let this much time pass at once, then fire what has become due. */
    pass(ms: number): void {
      goneMs += ms;
      const due = timers.filter(({ atMs }) => atMs <= goneMs);
      timers = timers.filter(({ atMs }) => atMs > goneMs);
      for (const { work } of due) work();
    },
  };
}

/** Wait until something is so; fails after ten seconds, saying what was waited for. */
export async function until(what: string, isSo: () => boolean): Promise<void> {
  const giveUpAt = performance.now() + 10_000;
  while (!isSo()) {
    if (performance.now() > giveUpAt) throw new Error(`waited in vain until ${what}`);
    await sleep(2);
  }
}
