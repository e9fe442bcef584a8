import { DAY_MS, isSaneClock } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import { copyNameOf } from "../copies/copy-names.js";
import { type CopyPorts, copiesIn, makeCopy } from "../copies/make-copy.js";
import type { Log } from "../mqtt/arrival-desk.js";
import { isDamage } from "../store/failures.js";
import { latestWallMs } from "./wall-time.js";

export type NightlyPorts = CopyPorts &
  Readonly<{ time: string; clock: Clock; log: Log; onDamaged?: (error: unknown) => void }>;

/**
 * Make a copy each night at `time` on the site's clock; at a start too, where copies were made
 * before and none since two days, so that a board that sleeps at night has them as well.
 */
export function startNightlyCopy(ports: NightlyPorts) {
  const { clock, log, timezone, time, folder } = ports;
  let last: Promise<void> = Promise.resolve();
  const copy = (nowMs: number) => {
    last = makeCopy(ports, nowMs).then(
      (file) => log.info({ file }, "the store is copied"),
      (error: unknown) => {
        log.error({ error: String(error) }, "the store could not be copied");
        if (isDamage(error)) ports.onDamaged?.(error);
      },
    );
  };
  const dueMs = (nowMs: number) => latestWallMs(nowMs, { time }, timezone);
  const startMs = clock.nowMs();
  let doneMs = isSaneClock(startMs) ? dueMs(startMs) : null;
  if (doneMs !== null && isOverdue(ports)) copy(startMs);
  return {
    /** Make the copy that has fallen due since the last look, if there is one. */
    look(): void {
      const nowMs = clock.nowMs();
      if (!isSaneClock(nowMs) || dueMs(nowMs) === doneMs) return;
      doneMs = dueMs(nowMs);
      // A clock that was set back and comes by again needs no second one.
      if (!copiesIn(folder).includes(copyNameOf(nowMs, timezone))) copy(nowMs);
    },
    close: (): Promise<void> => last,
  };
}

const OVERDUE_MS = 2 * DAY_MS;

function isOverdue({ folder, clock, timezone }: NightlyPorts): boolean {
  const [newest] = copiesIn(folder);
  return newest !== undefined && newest <= copyNameOf(clock.nowMs() - OVERDUE_MS, timezone);
}
