import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { type Outbox, type OutboxPorts, startOutbox } from "../mail/outbox.js";

/**
 * An outbox that is started again after the store failed under it: in a minute, then in twice as
 * long each time, up to an hour. Starting it sooner would send the same letters over and over
 * while nobody can note that they went.
 */
export function startLastingOutbox(ports: OutboxPorts): Outbox {
  let waitMs = MINUTE_MS;
  let timer: NodeJS.Timeout | null = null;
  const start = (): Outbox => startOutbox({ ...ports, onBroken });
  const onBroken = (): void => {
    timer = setTimeout(() => {
      outbox = start();
    }, waitMs);
    waitMs = Math.min(HOUR_MS, waitMs * 2);
  };
  let outbox = start();
  return {
    wake: () => outbox.wake(),
    lastTurnMs: () => outbox.lastTurnMs(),
    close: () => {
      if (timer !== null) clearTimeout(timer);
      return outbox.close();
    },
  };
}
