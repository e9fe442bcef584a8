import type { ErrorWithReasonCode, MqttClient } from "mqtt";
import type { Config } from "../config.js";
import type { ArrivalDesk } from "./arrival-desk.js";
import { type DrowseState, stateText } from "./state-notice.js";

type Noticed = Pick<Extract<Config["broker"], { kind: "outside" }>, "stateTopic">;

/**
 * Not authorized, in MQTT 3.1.1 (table 3.1) and 5 (table 3-1), and topic name invalid (the same):
 * what brokers say of a will on a topic that the client may not use.
 */
const REFUSALS: readonly unknown[] = [5, 135, 144];

/**
 * Keeps Drowse's state on a retained topic of an outside broker, and leaves its will there: that
 * the broker itself shall say it is gone, when the connection breaks.
 *
 * A broker that refuses the will refuses the whole connection, and readings are worth more. So
 * each refusal is followed by a try of the other kind, without the will or with it.
 */
export function openStateNotice(client: MqttClient, { stateTopic }: Noticed, desk: ArrivalDesk) {
  const gone = Buffer.from(stateText("gone", null));
  const will =
    stateTopic === null
      ? null
      : { topic: stateTopic, payload: gone, qos: 1 as const, retain: true as const };
  if (will !== null) client.options.will = will;
  let state: DrowseState = "keeping";
  let sinceMs = desk.clock.nowMs();
  let isMissed = false;
  const publish = () => {
    if (will === null || client.options.will === undefined || !client.connected) return;
    const text = stateText(state, sinceMs);
    client.publish(will.topic, text, { qos: 1, retain: true }, () => {});
  };
  return {
    /** A connection was refused with this. */
    refused: (error: Error | ErrorWithReasonCode): void => {
      if (will === null || !("code" in error) || !REFUSALS.includes(error.code)) return;
      if (client.options.will === undefined) client.options.will = will;
      else delete client.options.will;
    },
    connected: (): void => {
      if (will !== null && client.options.will === undefined && !isMissed)
        desk.log.warn({ topic: will.topic }, "the broker lets Drowse keep no state on this topic");
      isMissed = client.options.will === undefined;
      publish();
    },
    tell: (next: DrowseState): void => {
      if (next === state) return;
      state = next;
      sinceMs = desk.clock.nowMs();
      publish();
    },
  };
}
