import type { Duplex } from "node:stream";
import type { Aedes, Client, PublishPacket } from "aedes";
import { AckGate } from "./ack-gate.js";
import { type ArrivalDesk, arrivalOf } from "./arrival-desk.js";
import { PUBACK, PUBREC } from "./packet-head.js";
import { PacketSieve, type ShortWay } from "./packet-sieve.js";

/** Where clients come in: the broker, the desk, and what each client may do. */
export type Floor = Readonly<{
  broker: Aedes;
  desk: ArrivalDesk;
  /** Whether anybody is to be passed messages on. */
  isListenedTo(): boolean;
  mayPublish(client: Client, topic: string): boolean;
  userOf(client: Client): string | null;
}>;

/** Where a topic goes that clients may not use among each other; no wildcard reaches it. */
const NOWHERE = "$nowhere";

const NOTHING_OWED = () => {};

/** Put a gate before a socket and hand it to the broker. */
export function openGate(floor: Floor, socket: Duplex): AckGate {
  const { broker, desk } = floor;
  // Nobody is there to pass it on to, which is all that the broker would do with a plain message.
  const shortWay: ShortWay = {
    isOpen: () => client.connected && !floor.isListenedTo() && gate.readableLength === 0,
    take: ({ topic, payload, messageId }) => {
      const release = messageId === null ? NOTHING_OWED : gate.owe(messageId, PUBACK);
      if (floor.mayPublish(client, topic))
        desk.take(arrivalOf(desk.clock, topic, payload, false), release);
      else forbid(floor, client, topic, release);
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
export function takeIn(
  floor: Floor,
  client: Client | null,
  packet: PublishPacket,
  done: (error?: Error | null) => void,
): void {
  const { broker, desk } = floor;
  const { topic, qos, messageId } = packet;
  // Retaining would keep every topic's last message in memory for ever.
  packet.retain = false;
  const go = () => {
    let release = NOTHING_OWED;
    if (gate !== null && messageId && qos === 1 && !floor.isListenedTo()) {
      // Nobody is there to pass it on to, which is half the broker's work with a message at QoS 1.
      packet.qos = 0;
      release = gate.owe(messageId, PUBACK);
    } else if (gate !== null && messageId) release = gate.hold(messageId);
    if (client !== null && !floor.mayPublish(client, topic)) {
      packet.topic = NOWHERE;
      forbid(floor, client, topic, release);
      done();
      return;
    }
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

/**
 * Say that a client may not publish there, and acknowledge: MQTT 3.1.1 has no way to tell it
 * (section 3.3.5), and a closed connection would make it try the same message again for ever.
 */
function forbid(floor: Floor, client: Client, topic: string, release: () => void): void {
  floor.desk.forbid(topic, floor.userOf(client));
  release();
}
