import { createServer, type Server, type Socket } from "node:net";
import { createServer as createTlsServer } from "node:tls";
import { Aedes, type Client } from "aedes";
import { KnownError } from "../../shared/errors.js";
import { isLoopback } from "../config/fields.js";
import type { Config } from "../config.js";
import { AckGate } from "./ack-gate.js";
import type { ArrivalDesk, OpenBroker } from "./arrival-desk.js";
import { ConnectionRate } from "./connection-rate.js";
import { openDoor, type Rights } from "./door.js";
import { type Floor, openGate, takeIn } from "./embedded-client.js";
import { type IdleWatch, openIdleWatch } from "./idle-watch.js";
import { forgoNumberCache } from "./number-cache.js";
import { type DrowseState, stateText } from "./state-notice.js";

export type EmbeddedConfig = Extract<Config["broker"], { kind: "embedded" }>;

/** Our choice: far above what one site's sensors need, far below what exhausts a small board. */
const CONNECTIONS_MOST = 200;
const CONNECT_WAIT_MS = 10_000;
/** Our choice: one subscriber that stops reading must not hold up the readings of all. */
const SLOW_READER_MS = 5_000;

/**
 * Listen for sensors with a broker of our own: MQTT 3.1 and 3.1.1, any QoS, encrypted where there
 * is a certificate.
 *
 * A PUBACK or PUBREC leaves only after the desk has acknowledged the message. Nothing is kept for
 * clients that are away, and nothing retained but Drowse's own state: this broker passes readings
 * on, it stores none.
 *
 * @throws {KnownError} BROKER_OPEN beyond loopback for anyone, BROKER_PORT_TAKEN, BROKER_LISTEN
 *   where the address cannot be listened on or the certificate does not fit its key
 */
export async function openEmbedded(config: EmbeddedConfig, desk: ArrivalDesk): Promise<OpenBroker> {
  refuseOpenDoor(config);
  const { stateTopic } = config;
  const gates = new Set<AckGate>();
  const idle = openIdleWatch(desk);
  const rights = new WeakMap<Client, Rights>();
  /** Connected clients that are passed messages on; at most as many as there are connections. */
  const listeners = new Set<string>();
  const broker = await openAedes(config, desk, { rights, listeners, idle }, () => floor);
  const floor: Floor = {
    broker,
    desk,
    isListenedTo: () => listeners.size > 0,
    mayPublish: (client, topic) =>
      topic !== stateTopic && (rights.get(client)?.mayPublish(topic) ?? false),
    userOf: (client) => rights.get(client)?.user ?? null,
  };
  const closeBroker = () => {
    idle.close();
    return new Promise<void>((resolve) => broker.close(resolve));
  };
  try {
    const server = openServer(config, desk, (socket) => {
      const gate = openGate(floor, socket);
      gates.add(gate);
      gate.once("close", () => gates.delete(gate));
    });
    const port = await listen(server, config);
    desk.log.info({ tls: config.tls !== null, host: config.host, port }, "listening for sensors");
    desk.cutOff(null);
    desk.connected();
    tell(broker, stateTopic, "keeping", desk);
    return {
      port,
      askAgain: () => {
        for (const gate of gates) gate.destroy();
      },
      tell: (state) => tell(broker, stateTopic, state, desk),
      close: async () => {
        const closed = new Promise<void>((resolve) => server.close(() => resolve()));
        await closeBroker();
        for (const gate of gates) gate.destroy();
        await closed;
      },
    };
  } catch (error) {
    await closeBroker();
    throw error;
  }
}

/** Who is there. */
type Attendance = Readonly<{
  rights: WeakMap<Client, Rights>;
  listeners: Set<string>;
  idle: IdleWatch;
}>;

function openAedes(
  config: EmbeddedConfig,
  { log }: ArrivalDesk,
  { rights, listeners, idle }: Attendance,
  floorOf: () => Floor,
): Promise<Aedes> {
  const door = openDoor(config);
  forgoNumberCache();
  return Aedes.createBroker({
    connectTimeout: CONNECT_WAIT_MS,
    drainTimeout: SLOW_READER_MS,
    maxClientsIdLength: 256,
    preConnect: (client, packet, done) => {
      // A session that outlives its connection would queue for clients that never come back.
      packet.clean = true;
      // Nobody may take over the connection of another user by the name of its client.
      if (packet.clientId !== "" && packet.username !== undefined && config.sensors.length > 0)
        packet.clientId = `${packet.username}/${packet.clientId}`;
      // The broker would not see what goes the short way, and close on a client that is well.
      if (client.conn instanceof AckGate) idle.promise(client.conn, packet.keepalive ?? 0);
      packet.keepalive = 0;
      done(null, true);
    },
    authenticate: (client, user, password, done) => {
      const admitted = (given: Rights | null) => {
        if (given !== null) rights.set(client, given);
        done(null, given !== null);
      };
      door.admit(user, password).then(admitted, () => done(null, false));
    },
    authorizeSubscribe: (client, subscription, done) => {
      const may = rights.get(client)?.maySubscribe(subscription.topic) ?? false;
      if (may && subscription.topic !== config.stateTopic) listeners.add(client.id);
      done(null, may ? subscription : null);
    },
    authorizePublish: (client, packet, done) => takeIn(floorOf(), client, packet, done),
  }).then((broker) => {
    broker.on("clientDisconnect", (client) => listeners.delete(client.id));
    broker.on("clientError", (client, error) =>
      log.info({ client: client.id, reason: error.message }, "a client's connection broke"),
    );
    return broker;
  });
}

/** A server that counts connections before anything is spent on them. */
function openServer(
  { tls }: EmbeddedConfig,
  { log, clock }: ArrivalDesk,
  onSocket: (socket: Socket) => void,
): Server {
  const rate = new ConnectionRate();
  const server = tls === null ? createServer({ noDelay: true }) : encrypted(tls);
  server.maxConnections = CONNECTIONS_MOST;
  server.once("drop", () =>
    log.warn({ most: CONNECTIONS_MOST }, "refusing connections, too many are open"),
  );
  let said = false;
  server.prependListener("connection", (socket: Socket) => {
    if (rate.admits(socket.remoteAddress ?? "", clock.monotonicMs())) return;
    if (!said)
      log.warn(
        { address: socket.remoteAddress },
        "refusing connections, one address makes too many",
      );
    said = true;
    socket.destroy();
  });
  server.on(tls === null ? "connection" : "secureConnection", (socket: Socket) => {
    if (!socket.destroyed) onSocket(socket);
  });
  return server;
}

function encrypted({ cert, key }: NonNullable<EmbeddedConfig["tls"]>): Server {
  try {
    return createTlsServer({
      cert,
      key,
      minVersion: "TLSv1.2",
      handshakeTimeout: CONNECT_WAIT_MS,
      noDelay: true,
    });
  } catch (error) {
    const message = `cert_file and key_file in [broker] cannot be used together: ${(error as Error).message}; give the certificate (with its chain) and the key it was made for`;
    throw new KnownError("BROKER_LISTEN", message, { cause: error });
  }
}

function tell(broker: Aedes, topic: string | null, state: DrowseState, desk: ArrivalDesk): void {
  if (topic === null || broker.closed) return;
  const payload = Buffer.from(stateText(state, desk.clock.nowMs()));
  const packet = { cmd: "publish", topic, payload, qos: 0, retain: true, dup: false } as const;
  broker.publish(packet, () => {});
}

function refuseOpenDoor({ host, port, user, password, sensors }: EmbeddedConfig): void {
  const isGuarded = sensors.length > 0 || user !== null;
  const isKeyless = user !== null && (password === null || password === "");
  if (isLoopback(host) || (isGuarded && !isKeyless)) return;
  throw new KnownError(
    "BROKER_OPEN",
    `[broker] embedded = "${host}:${port}" would let anyone on the network publish readings; ` +
      `set [[sensor]] tables, or user and password_file in [broker], or listen on 127.0.0.1 only`,
  );
}

async function listen(server: Server, { host, port }: EmbeddedConfig): Promise<number> {
  const listening = new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen({ host, port }, resolve);
  });
  await listening.catch((error: NodeJS.ErrnoException) => {
    if (error.code === "EADDRINUSE") throw portTaken(host, port, error);
    const message = `listening on ${host}:${port} failed with ${error.code ?? error.message}; [broker] embedded needs an address of this machine and a port from 1024 up`;
    throw new KnownError("BROKER_LISTEN", message, { cause: error });
  });
  const address = server.address();
  return typeof address === "object" && address !== null ? address.port : port;
}

function portTaken(host: string, port: number, cause: Error): KnownError {
  return new KnownError(
    "BROKER_PORT_TAKEN",
    `another program listens on ${host}:${port} already; "ss -ltnp sport = :${port}" names it. ` +
      `If it is an MQTT broker, use it: [broker] url = "mqtt://${host}:${port}"; ` +
      `else stop it, or give [broker] embedded another port`,
    { cause },
  );
}
