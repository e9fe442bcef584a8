import { once } from "node:events";
import fc from "fast-check";
import { generate, type Packet, parser } from "mqtt-packet";
import { afterEach, beforeEach, expect, test } from "vitest";
import { AckGate, type Release } from "../../../daemon/mqtt/ack-gate.js";
import { openSocketPair } from "./socket-pair.js";
import { until } from "./until.js";

let pair: Awaited<ReturnType<typeof openSocketPair>>;
let gate: AckGate;
let received: Packet[];

async function begin(version: 4 | 5 = 4) {
  pair = await openSocketPair();
  gate = new AckGate(pair.near);
  gate.on("error", () => {});
  received = [];
  const reading = parser({ protocolVersion: version } as never);
  reading.on("packet", (packet) => received.push(packet));
  pair.far.on("data", (chunk) => reading.parse(chunk));
}
beforeEach(() => begin());
afterEach(() => pair.close());

const ack = (messageId: number): Packet => ({ cmd: "puback", messageId });
const PING: Packet = { cmd: "pingresp" };
const shown = (packet: Packet) => `${packet.cmd} ${packet.messageId ?? ""}`.trim();
const seen = () => received.map(shown);
const send = (packet: Packet, version: 4 | 5 = 4) =>
  gate.write(generate(packet, { protocolVersion: version }));

test("an acknowledgement waits for its release, the answer to a ping does not", async () => {
  const release = gate.hold(7);
  send(ack(7));
  send(PING);
  await until("the ping is answered", () => received.length === 1);
  expect(seen()).toEqual(["pingresp"]);
  release();
  await until("the acknowledgement came", () => received.length === 2);
  expect(seen()).toEqual(["pingresp", "puback 7"]);
  expect(gate.heldCount).toBe(0);
});

test("released before it was written, an acknowledgement goes straight through", async () => {
  gate.hold(7)();
  send(ack(7));
  await until("it came", () => received.length === 1);
  expect(gate.heldCount).toBe(0);
});

test("an acknowledgement that nobody holds passes", async () => {
  send(ack(9));
  await until("it came", () => received.length === 1);
  expect(seen()).toEqual(["puback 9"]);
});

test("acknowledgements keep the order of their messages, however they are released", async () => {
  // MQTT 3.1.1, section 4.6: PUBACK in the order in which the PUBLISH packets were received.
  const releases = [3, 1, 2].map((id) => gate.hold(id));
  for (const id of [3, 1, 2]) send(ack(id));
  releases[2]!();
  releases[1]!();
  send(PING);
  await until("the ping is answered", () => received.length === 1);
  releases[0]!();
  await until("all came", () => received.length === 4);
  expect(seen()).toEqual(["pingresp", "puback 3", "puback 1", "puback 2"]);
});

test("an identifier serves again after its acknowledgement went", async () => {
  for (let round = 1; round <= 3; round++) {
    const release = gate.hold(1);
    send(ack(1));
    send(PING);
    await until("the ping is answered", () => received.length === 2 * round - 1);
    release();
    await until("the acknowledgement came", () => received.length === 2 * round);
  }
  expect(seen()).toEqual(Array(3).fill(["pingresp", "puback 1"]).flat());
});

test("a message that comes twice while it is held is acknowledged after the commit only", async () => {
  const first = gate.hold(5);
  const second = gate.hold(5);
  send(ack(5));
  send(ack(5));
  send(PING);
  await until("the ping is answered", () => received.length === 1);
  expect(seen()).toEqual(["pingresp"]);
  first();
  second();
  await until("it is acknowledged", () => received.length === 2);
  expect(gate.heldCount).toBe(0);
});

test("an MQTT 5 acknowledgement keeps its reason code", async () => {
  pair.close();
  await begin(5);
  const release = gate.hold(260);
  send({ cmd: "puback", messageId: 260, reasonCode: 16 }, 5);
  send({ cmd: "pubrec", messageId: 261, reasonCode: 0 }, 5);
  await until("the other passed", () => received.length === 1);
  release();
  await until("both came", () => received.length === 2);
  expect(received[1]).toMatchObject({ cmd: "puback", messageId: 260, reasonCode: 16 });
});

test("closing drops what is held, and a late release does no harm", async () => {
  const release = gate.hold(1);
  send(ack(1));
  const closed = once(gate, "close");
  pair.far.destroy();
  await closed;
  release();
  expect(gate.heldCount).toBe(0);
});

test("bytes come in unchanged, and the end of the connection is passed on", async () => {
  const bytes = Buffer.from(Array.from({ length: 300_000 }, (_, i) => (i * 7) % 256));
  pair.far.end(bytes);
  const chunks: Buffer[] = [];
  for await (const chunk of gate) chunks.push(chunk as Buffer);
  expect(Buffer.concat(chunks).equals(bytes)).toBe(true);
});

type Plan = { packets: Packet[]; cuts: number[]; order: number[] };

const plans = fc
  .array(fc.oneof(fc.constant("ack"), fc.constant("rec"), fc.constant("ping"), fc.nat(400)), {
    maxLength: 30,
  })
  .chain((kinds) => {
    const packets = kinds.map((kind, index): Packet => {
      if (kind === "ping") return PING;
      if (kind === "ack" || kind === "rec") return { cmd: `pub${kind}`, messageId: 65_535 - index };
      const payload = Buffer.alloc(kind as number, 0x40);
      return { cmd: "publish", topic: "a", payload, qos: 0, dup: false, retain: false };
    });
    const held = packets.flatMap(({ messageId }) => (messageId === undefined ? [] : [messageId]));
    return fc.record({
      packets: fc.constant(packets),
      cuts: fc.array(fc.nat(20), { minLength: 1, maxLength: 50 }),
      order: fc.shuffledSubarray(held, { minLength: held.length, maxLength: held.length }),
    });
  });

async function play({ packets, cuts, order }: Plan): Promise<void> {
  await begin();
  const releases = new Map<number, Release>();
  for (const { messageId } of packets)
    if (messageId !== undefined) releases.set(messageId, gate.hold(messageId));
  const early = order.length >> 1;
  for (const id of order.slice(0, early)) releases.get(id)!();
  const bytes = Buffer.concat(packets.map((packet) => generate(packet)));
  for (let at = 0, i = 0; at < bytes.length; i++) {
    const size = 1 + (cuts[i % cuts.length] ?? 0);
    gate.write(bytes.subarray(at, at + size));
    at += size;
  }
  const plain = packets.filter(({ messageId }) => messageId === undefined);
  const isPlain = (packet: Packet) => packet.messageId === undefined;
  await until("what is not held came", () => received.filter(isPlain).length === plain.length);
  for (const id of order.slice(early)) releases.get(id)!();
  await until("all came", () => received.length === packets.length);
  expect(received.filter(isPlain).map(shown)).toEqual(plain.map(shown));
  const acks = (all: Packet[]) => all.filter((packet) => !isPlain(packet)).map(shown);
  expect(acks(received)).toEqual(acks(packets));
  pair.close();
}

test("however packets are cut into chunks, all pass once and in order", async () => {
  await fc.assert(fc.asyncProperty(plans, play), { numRuns: 60, seed: 1883 });
});
