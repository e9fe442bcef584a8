import { schedule } from "node-cron";
import { DAY_MS, isSaneClock } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import { copyNameOf } from "../copies/copy-names.js";
import { type CopyPorts, copiesIn, makeCopy } from "../copies/make-copy.js";
import type { Log } from "../mqtt/arrival-desk.js";
import { isDamage } from "../store/failures.js";
import { cronOfDay } from "./digest-span.js";

export type NightlyPorts = CopyPorts &
  Readonly<{ time: string; clock: Clock; log: Log; onDamaged?: (error: unknown) => void }>;

/**
 * Make a copy each night at `time` on the site's clock; at a start too, where copies were made
 * before and none since two days, so that a board that sleeps at night has them as well.
 */
export function startNightlyCopy(ports: NightlyPorts): { close(): Promise<void> } {
  const { clock, log, timezone } = ports;
  let last: Promise<void> = Promise.resolve();
  const copy = () => {
    const nowMs = clock.nowMs();
    if (!isSaneClock(nowMs)) return;
    last = makeCopy(ports, nowMs).then(
      (file) => log.info({ file }, "the store is copied"),
      (error: unknown) => {
        log.error({ error: String(error) }, "the store could not be copied");
        if (isDamage(error)) ports.onDamaged?.(error);
      },
    );
  };
  if (isOverdue(ports)) copy();
  const task = schedule(cronOfDay(ports.time), copy, { timezone, name: "nightly copy" });
  return {
    close: async () => {
      await task.destroy();
      await last;
    },
  };
}

const OVERDUE_MS = 2 * DAY_MS;

function isOverdue({ folder, clock, timezone }: NightlyPorts): boolean {
  const [newest] = copiesIn(folder);
  return newest !== undefined && newest <= copyNameOf(clock.nowMs() - OVERDUE_MS, timezone);
}
