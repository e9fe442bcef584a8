import { HOUR_MS, SECOND_MS } from "../../shared/time.js";
import type { AckGate } from "./ack-gate.js";
import type { Log } from "./arrival-desk.js";

const LOOK_EACH_MS = SECOND_MS;
/** A client may be late by half of what it promised (MQTT 3.1.1, section 3.1.2.10). */
const LATENESS = 1.5;

/** Our choice: a connection of which nothing comes in two hours is taken to be dead. */
const PATIENCE_MOST_MS = 2 * HOUR_MS;

/** Closes connections whose client has not been heard for longer than it promised. */
export type IdleWatch = Readonly<{
  /**
   * A client promised to be heard each so many seconds; 0 promises nothing. It may stay silent
   * for two hours at most: a server may close on whom it finds dead (MQTT 3.1.1, 3.1.2.10). */
  promise(gate: AckGate, keepaliveS: number): void;
  close(): void;
}>;

/** Bound: one entry for each open connection that is let in. */
export function openIdleWatch({ log }: Readonly<{ log: Log }>): IdleWatch {
  const patienceMs = new Map<AckGate, number>();
  const look = () => {
    const nowMs = performance.now();
    for (const [gate, mostMs] of patienceMs)
      if (nowMs - gate.heardAtMs > mostMs) {
        log.info({ silentMs: Math.round(nowMs - gate.heardAtMs) }, "closing a silent connection");
        gate.destroy();
      }
  };
  const timer = setInterval(look, LOOK_EACH_MS);
  return {
    promise: (gate, keepaliveS) => {
      if (gate.destroyed) return;
      const promisedMs = keepaliveS > 0 ? keepaliveS * LATENESS * SECOND_MS : PATIENCE_MOST_MS;
      patienceMs.set(gate, Math.min(PATIENCE_MOST_MS, promisedMs));
      gate.once("close", () => patienceMs.delete(gate));
    },
    close: () => clearInterval(timer),
  };
}
