import type { Arrival } from "../../sensors/decode.js";
import { isSaneClock } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import type { Oversize } from "./packet-sieve.js";
import type { DrowseState } from "./state-notice.js";

/** What both kinds of broker need from the rest of Drowse. */
export type ArrivalDesk = Readonly<{
  /** Take a message in; `acknowledge` is called once, when the sender may forget it. */
  take(arrival: Arrival, acknowledge: () => void): void;
  /** A message that was too large to be looked at; it is acknowledged by the caller. */
  refuse(packet: Oversize): void;
  /** A message on a topic that its sender may not use; it is acknowledged by the caller. */
  forbid(topic: string, user: string | null): void;
  /** The way to the senders is open (again), and what they kept back may pour in. */
  connected(): void;
  /** The way to the senders is barred, for this reason; null once it is open. */
  cutOff(said: string | null): void;
  clock: Clock;
  log: Log;
}>;

/** The part of a pino logger that is used. */
export type Log = Readonly<{
  info(facts: object, message: string): void;
  warn(facts: object, message: string): void;
  error(facts: object, message: string): void;
}>;

/** An open connection to senders, of either kind. */
export type OpenBroker = Readonly<{
  /** The port that is listened on, where there is one. */
  port?: number;
  /** Break all connections, so that senders deliver again what was never acknowledged. */
  askAgain(): void;
  /** Let others know how Drowse is, on its state topic; does nothing where there is none. */
  tell(state: DrowseState): void;
  close(): Promise<void>;
}>;

/** An arrival of this instant. */
export function arrivalOf(
  clock: Clock,
  topic: string,
  payload: Uint8Array,
  retained: boolean,
): Arrival {
  const arrivedAtMs = clock.nowMs();
  return { topic, payload, retained, arrivedAtMs, clockSane: isSaneClock(arrivedAtMs) };
}
