import { randomBytes } from "node:crypto";
import { MqttClient } from "mqtt";
import { SECOND_MS } from "../../shared/time.js";
import type { Config } from "../config.js";
import { credentials, explain, lineTo } from "./outside-broker.js";

/** A message as it went by. */
export type Overheard = Readonly<{ topic: string; payload: Uint8Array; retained: boolean }>;

const CONNECT_WAIT_MS = 10 * SECOND_MS;

/**
 * Listen to all topics of a broker for a while, as a guest: nothing is acknowledged on anybody's
 * behalf and no session is left behind. An embedded broker is found only while `drowse keep` runs.
 *
 * @param until seconds, or a signal that ends it sooner
 * @param onArrival called for each message, retained ones first
 * @throws {KnownError} BROKER_UNREACHABLE or BROKER_REFUSED when it can't be connected to, or
 *   refuses the subscription
 */
export async function listenFor(
  broker: Config["broker"],
  until: number | AbortSignal,
  onArrival: (message: Overheard) => void,
): Promise<void> {
  const signal = typeof until === "number" ? AbortSignal.timeout(until * SECOND_MS) : until;
  const guest = {
    url: broker.kind === "outside" ? broker.url : `mqtt://${hostOf(broker.host)}:${broker.port}`,
    ca: broker.kind === "outside" ? broker.ca : null,
    user: broker.user,
    password: broker.password,
  };
  const client = new MqttClient(() => lineTo(guest), {
    ...credentials(guest),
    clientId: `drowse-hear-${randomBytes(4).toString("hex")}`,
    clean: true,
    connectTimeout: CONNECT_WAIT_MS,
    reconnectPeriod: 0,
    protocolVersion: broker.kind === "outside" ? broker.protocolVersion : 4,
  });
  client.on("message", (topic, payload, packet) =>
    onArrival({ topic, payload, retained: packet.retain }),
  );
  try {
    await new Promise<void>((resolve, reject) => {
      const fail = (error: Error) => reject(explain(error, guest));
      client.once("error", fail);
      client.once("close", () => fail(new Error("the connection was closed")));
      client.once("connect", () =>
        client.subscribe("#", { qos: 0 }, (error) => error && fail(error)),
      );
      signal.addEventListener("abort", () => resolve(), { once: true });
      if (signal.aborted) resolve();
    });
  } finally {
    client.on("error", () => {});
    await client.endAsync(true);
  }
}

/** Where a broker that listens on every address is reached from here. */
function hostOf(host: string): string {
  if (host === "0.0.0.0") return "127.0.0.1";
  if (host === "::") return "[::1]";
  return host.includes(":") ? `[${host}]` : host;
}
