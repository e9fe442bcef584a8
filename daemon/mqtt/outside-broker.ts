import { connect as connectPlain, isIP } from "node:net";
import { connect as connectTls } from "node:tls";
import { type ErrorWithReasonCode, type IClientOptions, MqttClient } from "mqtt";
import { KnownError } from "../../shared/errors.js";
import { DAY_MS, SECOND_MS } from "../../shared/time.js";
import type { Config } from "../config.js";
import { AckGate } from "./ack-gate.js";
import { type ArrivalDesk, arrivalOf, type OpenBroker } from "./arrival-desk.js";
import { forgoNumberCache } from "./number-cache.js";
import { openStateNotice } from "./outside-notice.js";
import { PUBACK, PUBREC } from "./packet-head.js";
import { PACKET_BYTES_MOST, PacketSieve } from "./packet-sieve.js";
import { reconnectDelayMs } from "./reconnect-delay.js";

export type OutsideConfig = Extract<Config["broker"], { kind: "outside" }>;

/** How long the broker keeps our session while Drowse is away: a week's holiday and some. */
const SESSION_S = (14 * DAY_MS) / SECOND_MS;
const KEEPALIVE_S = 30;
const CONNECT_WAIT_MS = 20 * SECOND_MS;
const CLOSE_WAIT_MS = 2 * SECOND_MS;

/**
 * Receive from a broker that is already there, over one persistent session at QoS 1: what is
 * published while Drowse is away waits there. Connecting is tried for ever, for a broker or a name
 * server that is down at night must not end the watch; each new cause of failure is said once.
 *
 * @param topicFilters what to subscribe to; wildcards allowed
 */
export function openOutside(
  config: OutsideConfig,
  topicFilters: readonly string[],
  desk: ArrivalDesk,
): OpenBroker {
  let gate: AckGate | null = null;
  forgoNumberCache();
  const client = new MqttClient(() => {
    gate = gateTo(config, desk);
    return gate;
  }, sessionOptions(config));

  client.on("message", (topic, payload, packet) => {
    const release = packet.messageId && gate !== null ? gate.hold(packet.messageId) : () => {};
    desk.take(arrivalOf(desk.clock, topic, payload, packet.retain), release);
  });
  let failures = 0;
  let lastSaid = "";
  const say = (error: Error) => {
    const known = explain(error, config);
    if (known.message === lastSaid) return;
    desk.log.error({ code: known.code }, known.message);
    desk.cutOff(known.message);
    lastSaid = known.message;
  };
  const notice = openStateNotice(client, config, desk);
  client.on("error", (error) => {
    notice.refused(error);
    say(error);
  });
  client.on("connect", () => {
    failures = 0;
    lastSaid = "";
    desk.log.info({ broker: placeOf(config) }, "connected to the broker");
    desk.cutOff(null);
    desk.connected();
    notice.connected();
    subscribe(client, topicFilters, config, desk);
  });
  // Before the library's own listener, which reads the delay when it sets its timer.
  client.prependListener("close", () => {
    client.options.reconnectPeriod = reconnectDelayMs(failures++);
  });
  client.connect();
  return {
    askAgain: () => gate?.destroy(),
    tell: (state) => notice.tell(state),
    close: () => {
      notice.tell("gone");
      return end(client);
    },
  };
}

function sessionOptions(config: OutsideConfig): IClientOptions {
  const shared: IClientOptions = {
    ...credentials(config),
    clientId: config.clientId,
    clean: false,
    keepalive: KEEPALIVE_S,
    connectTimeout: CONNECT_WAIT_MS,
    reconnectPeriod: reconnectDelayMs(0),
    reconnectOnConnackError: true,
    // The will must be in place before the first connection.
    manualConnect: true,
    // We subscribe on each connection ourselves, to see each refusal.
    resubscribe: false,
    protocolVersion: config.protocolVersion,
  };
  if (config.protocolVersion === 4) return shared;
  // The broker itself then keeps messages back that would be refused here (MQTT 5, 3.1.2.11.4).
  const properties = { sessionExpiryInterval: SESSION_S, maximumPacketSize: PACKET_BYTES_MOST };
  return { ...shared, properties };
}

/** User and password as the MQTT library wants them. */
export function credentials({ user, password }: Pick<OutsideConfig, "user" | "password">) {
  return {
    ...(user === null ? {} : { username: user }),
    ...(password === null ? {} : { password }),
  };
}

/** A socket to the broker, encrypted for `mqtts:`, its certificate checked. */
export function lineTo(config: Pick<OutsideConfig, "url" | "ca">) {
  const url = new URL(config.url);
  const host = url.hostname.replace(/^\[|\]$/g, "");
  if (url.protocol !== "mqtts:")
    return connectPlain({ host, port: Number(url.port || 1883), noDelay: true });
  return connectTls({
    host,
    port: Number(url.port || 8883),
    ...(isIP(host) === 0 ? { servername: host } : {}),
    ...(config.ca === null ? {} : { ca: config.ca }),
  });
}

function gateTo(config: OutsideConfig, desk: ArrivalDesk): AckGate {
  const sieve = new PacketSieve((packet): void => {
    if (packet.topic === null) {
      gate.destroy();
      return;
    }
    desk.refuse(packet);
    if (packet.messageId !== null) gate.owe(packet.messageId, packet.qos === 2 ? PUBREC : PUBACK)();
  });
  const gate = new AckGate(lineTo(config), sieve);
  return gate;
}

function subscribe(
  client: MqttClient,
  topicFilters: readonly string[],
  config: OutsideConfig,
  desk: ArrivalDesk,
): void {
  // Retained messages are wanted at a first subscription only (MQTT 5, 3.8.3.1).
  const wanted = Object.fromEntries(
    topicFilters.map((filter) => [filter, { qos: 1, rh: 1 }] as const),
  );
  client.subscribe(wanted, (error, _granted, packet) => {
    if (client.disconnecting || !client.connected) return;
    // One code for each filter, in their order (MQTT 3.1.1 and 5, section 3.9.3).
    const codes = (packet as { granted?: readonly unknown[] } | undefined)?.granted ?? [];
    const refused = topicFilters.filter((_, i) => Number(codes[i] ?? 0) >= 128);
    if (error === null && refused.length === 0) {
      desk.log.info({ topics: topicFilters }, "subscribed");
      return;
    }
    const topics = (refused.length > 0 ? refused : topicFilters).join(", ");
    const message = `${placeOf(config)} refuses the subscription to ${topics}; no reading comes from there. Give ${config.user ?? "anonymous clients"} the right to read these topics (an ACL)`;
    const known = new KnownError("BROKER_REFUSED", message);
    desk.log.error({ code: known.code }, known.message);
  });
}

/** Put a connection's failure in words, with its cure. */
export function explain(error: Error, config: Pick<OutsideConfig, "url" | "user">): KnownError {
  const { code } = error as NodeJS.ErrnoException | ErrorWithReasonCode;
  const place = placeOf(config);
  // MQTT 3.1.1 table 3.1 and MQTT 5 table 3-1: bad user name or password; not authorized.
  if (code === 4 || code === 5 || code === 134 || code === 135) {
    const message = `${place} does not admit ${config.user ?? "us without a name"}; check user and password_file in [broker]`;
    return new KnownError("BROKER_REFUSED", message, { cause: error });
  }
  const cures: Record<string, string> = {
    ENOTFOUND: "its name is unknown: check [broker] url, and the name server",
    EAI_AGAIN: "no name server answers: check the network",
    ECONNREFUSED: "nothing listens there: is the broker running, and is that its port",
    CERT_HAS_EXPIRED: "its certificate has expired",
    DEPTH_ZERO_SELF_SIGNED_CERT: "its certificate is not known here: set ca_file in [broker]",
    SELF_SIGNED_CERT_IN_CHAIN: "its certificate is not known here: set ca_file in [broker]",
    UNABLE_TO_VERIFY_LEAF_SIGNATURE: "its certificate is not known here: set ca_file in [broker]",
    ERR_TLS_CERT_ALTNAME_INVALID:
      "its certificate is for another name than the one in [broker] url",
  };
  const why = cures[String(code)] ?? error.message;
  const message = `reaching ${place} failed (${code ?? "no code"}): ${why}; trying again`;
  return new KnownError("BROKER_UNREACHABLE", message, { cause: error });
}

function placeOf({ url }: Pick<OutsideConfig, "url">): string {
  const { protocol, host } = new URL(url);
  return `the broker ${protocol}//${host}`;
}

async function end(client: MqttClient): Promise<void> {
  const ended = new Promise<void>((resolve) => client.end(!client.connected, {}, () => resolve()));
  const late = new Promise<void>((resolve) => setTimeout(resolve, CLOSE_WAIT_MS).unref());
  await Promise.race([ended, late]);
  client.stream.destroy();
}
