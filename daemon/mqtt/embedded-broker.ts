import { createHash, timingSafeEqual } from "node:crypto";
import { createServer, isIPv4, type Server, type Socket } from "node:net";
import { Aedes, type Client, type PublishPacket } from "aedes";
import { KnownError } from "../../shared/errors.js";
import type { Config } from "../config.js";
import { AckGate } from "./ack-gate.js";
import { type ArrivalDesk, arrivalOf, type OpenBroker } from "./arrival-desk.js";
import { openIdleWatch } from "./idle-watch.js";
import { PUBACK, PUBREC } from "./packet-head.js";
import { PacketSieve, type ShortWay } from "./packet-sieve.js";

export type EmbeddedConfig = Extract<Config["broker"], { kind: "embedded" }>;

/** Our choice: far above what one site's sensors need, far below what exhausts a small board. */
const CONNECTIONS_MOST = 200;
const CONNECT_WAIT_MS = 10_000;
/** Our choice: one subscriber that stops reading must not hold up the readings of all. */
const SLOW_READER_MS = 5_000;

/** Where a topic goes that clients may not use among each other; no wildcard reaches it. */
const NOWHERE = "$nowhere";

const NOTHING_OWED = () => {};

/**
 * Listen for sensors with a broker of our own: MQTT 3.1 and 3.1.1, any QoS.
 *
 * A PUBACK or PUBREC leaves only after the desk has acknowledged the message. Nothing is kept for
 * clients that are away and nothing retained: this broker passes readings on, it stores none.
 *
 * @throws {KnownError} BROKER_OPEN beyond loopback without a password, BROKER_PORT_TAKEN,
 *   BROKER_LISTEN where the address cannot be listened on
 */
export async function openEmbedded(config: EmbeddedConfig, desk: ArrivalDesk): Promise<OpenBroker> {
  refuseOpenDoor(config);
  const idle = openIdleWatch(desk);
  /** Connected clients that subscribe; at most as many as there are connections. */
  const listeners = new Set<string>();
  const broker = await Aedes.createBroker({
    connectTimeout: CONNECT_WAIT_MS,
    drainTimeout: SLOW_READER_MS,
    maxClientsIdLength: 256,
    preConnect: (client, packet, done) => {
      // A session that outlives its connection would queue for clients that never come back.
      packet.clean = true;
      // The broker would not see what goes the short way, and close on a client that is well.
      if (client.conn instanceof AckGate) idle.promise(client.conn, packet.keepalive ?? 0);
      packet.keepalive = 0;
      done(null, true);
    },
    authenticate: (_client, user, password, done) => done(null, admits(config, user, password)),
    authorizeSubscribe: (client, subscription, done) => {
      listeners.add(client.id);
      done(null, subscription);
    },
    authorizePublish: (client, packet, done) =>
      takeIn(broker, desk, listeners.size > 0, client, packet, done),
  });
  broker.on("clientDisconnect", (client) => listeners.delete(client.id));
  const gates = new Set<AckGate>();
  const server = createServer({ noDelay: true }, (socket) => {
    const gate = admit(broker, desk, socket, () => listeners.size > 0);
    gates.add(gate);
    gate.once("close", () => gates.delete(gate));
  });
  server.maxConnections = CONNECTIONS_MOST;
  server.once("drop", () =>
    desk.log.warn({ most: CONNECTIONS_MOST }, "refusing connections, too many are open"),
  );
  broker.on("clientError", (client, error) =>
    desk.log.info({ client: client.id, reason: error.message }, "a client's connection broke"),
  );
  const port = await listen(server, config).catch((error) => {
    idle.close();
    broker.close();
    throw error;
  });
  desk.log.info({ host: config.host, port }, "listening for sensors");
  desk.connected();
  const askAgain = () => {
    for (const gate of gates) gate.destroy();
  };
  const close = () => {
    idle.close();
    return closeAll(server, broker, gates);
  };
  return { port, askAgain, close };
}

function admit(
  broker: Aedes,
  desk: ArrivalDesk,
  socket: Socket,
  isListenedTo: () => boolean,
): AckGate {
  // Nobody is there to pass it on to, which is all that the broker would do with a plain message.
  const shortWay: ShortWay = {
    isOpen: () => client.connected && !isListenedTo() && gate.readableLength === 0,
    take: ({ topic, payload, messageId }) => {
      const release = messageId === null ? NOTHING_OWED : gate.owe(messageId, PUBACK);
      desk.take(arrivalOf(desk.clock, topic, payload, false), release);
    },
  };
  const sieve = new PacketSieve((packet): void => {
    if (packet.topic === null || !client.connected) {
      gate.destroy();
      return;
    }
    desk.refuse(packet);
    if (packet.messageId !== null) gate.owe(packet.messageId, packet.qos === 2 ? PUBREC : PUBACK)();
  }, shortWay);
  const gate = new AckGate(socket, sieve);
  const client = broker.handle(gate);
  return gate;
}

/** Hand a publish to the desk before the broker goes on with it. */
function takeIn(
  broker: Aedes,
  desk: ArrivalDesk,
  isListenedTo: boolean,
  client: Client | null,
  packet: PublishPacket,
  done: (error?: Error | null) => void,
): void {
  const { topic, qos, messageId } = packet;
  // Retaining would keep every topic's last message in memory for ever.
  packet.retain = false;
  const go = () => {
    let release = NOTHING_OWED;
    if (gate !== null && messageId && qos === 1 && !isListenedTo) {
      // Nobody is there to pass it on to, which is half the broker's work with a message at QoS 1.
      packet.qos = 0;
      release = gate.owe(messageId, PUBACK);
    } else if (gate !== null && messageId) release = gate.hold(messageId);
    const payload =
      typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
    desk.take(arrivalOf(desk.clock, topic, payload, false), release);
    // MQTT 3.1.1, section 4.7.2: not for clients to talk to each other; this broker itself does.
    if (topic.startsWith("$")) packet.topic = NOWHERE;
    done();
  };
  const gate = client?.conn instanceof AckGate ? client.conn : null;
  if (qos === 2 && client !== null) {
    // At QoS 2 the same identifier again is the same message (MQTT 3.1.1, section 4.3.3).
    const { persistence } = broker as unknown as { persistence: IncomingStore };
    persistence.incomingGetPacket(client, packet).then(() => done(), go);
  } else go();
}

/** The one method of the broker's memory that is called here; it rejects for an unknown packet. */
type IncomingStore = { incomingGetPacket(client: Client, packet: PublishPacket): Promise<unknown> };

function admits(config: EmbeddedConfig, user?: string, password?: Buffer): boolean {
  if (config.user === null) return true;
  // Both are compared whatever the first gives, and in a time that tells nothing of either.
  const userFits = equal(user ?? "", config.user);
  const passwordFits = equal(password ?? "", config.password ?? "");
  return userFits && passwordFits && config.password !== null;
}

function equal(given: string | Buffer, wanted: string): boolean {
  const digest = (value: string | Buffer) => createHash("sha256").update(value).digest();
  return timingSafeEqual(digest(given), digest(wanted));
}

function refuseOpenDoor({ host, port, user, password }: EmbeddedConfig): void {
  const isLoopback =
    host === "localhost" || host === "::1" || (isIPv4(host) && host.startsWith("127."));
  if (isLoopback || (user !== null && password !== null && password !== "")) return;
  throw new KnownError(
    "BROKER_OPEN",
    `[broker] embedded = "${host}:${port}" would let anyone on the network publish readings; ` +
      `set user and password_file in [broker], or listen on 127.0.0.1 only`,
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

async function closeAll(server: Server, broker: Aedes, gates: Set<AckGate>): Promise<void> {
  const closed = new Promise<void>((resolve) => server.close(() => resolve()));
  await new Promise<void>((resolve) => broker.close(resolve));
  for (const gate of gates) gate.destroy();
  await closed;
}
