import fc from "fast-check";
import { generate, type IPublishPacket, type Packet, parser } from "mqtt-packet";
import { expect, test } from "vitest";
import { headBytes, readRemaining } from "../../../daemon/mqtt/packet-head.js";
import { readPlainPublish } from "../../../daemon/mqtt/plain-publish.js";

const publish = (topic: string, qos: number, more: object = {}): Buffer =>
  generate({
    ...{ cmd: "publish", topic, payload: "2.4", qos, dup: false, retain: false, messageId: 513 },
    ...more,
  } as Packet);

function read(bytes: Buffer) {
  const bodyAt = headBytes(bytes, 0);
  return readPlainPublish(bytes, 0, bodyAt, bodyAt + readRemaining(bytes, 1));
}

test("a message as sensors send it is read, whether it is to be retained or comes again", () => {
  const plain = { topic: "shed/air", payload: Buffer.from("2.4"), messageId: 513 };
  expect(read(publish("shed/air", 1))).toEqual(plain);
  expect(read(publish("shed/air", 1, { dup: true, retain: true }))).toEqual(plain);
  expect(read(publish("shed/air", 0, { retain: true }))).toEqual({ ...plain, messageId: null });
  expect(read(publish("a", 1, { payload: "" }))).toMatchObject({ topic: "a", messageId: 513 });
});

test("what is out of the ordinary is left to the MQTT library", () => {
  const doubtful = [
    publish("shed/air", 2),
    publish("$shed/air", 1),
    publish("Kühlschrank", 1),
    publish("a".repeat(257), 1),
    // Wildcards, QoS 3, DUP at QoS 0, and a packet identifier of 0 (MQTT 3.1.1, 3.3.2-2, 3.3.1-4,
    // 3.3.1-2 and 2.3.1-1); a topic with U+0000 (1.5.3-2), none (4.7.3-1), and one that is cut off.
    Buffer.from([0x32, 6, 0, 1, 0x2b, 0, 1, 0x31]),
    Buffer.from([0x32, 6, 0, 1, 0x23, 0, 1, 0x31]),
    Buffer.from([0x36, 6, 0, 1, 0x61, 0, 1, 0x31]),
    Buffer.from([0x38, 4, 0, 1, 0x61, 0x31]),
    Buffer.from([0x32, 6, 0, 1, 0x61, 0, 0, 0x31]),
    Buffer.from([0x32, 6, 0, 1, 0x00, 0, 1, 0x31]),
    Buffer.from([0x32, 5, 0, 0, 0, 1, 0x31]),
    Buffer.from([0x32, 4, 0, 9, 0x61, 0x62]),
    Buffer.from([0x30, 1, 0]),
  ];
  for (const bytes of doubtful) expect(read(bytes), bytes.toString("hex")).toBeNull();
});

test("whatever the bytes, what is read is what mqtt-packet reads, and nothing throws", () => {
  const first = fc.constantFrom(0x30, 0x31, 0x32, 0x33, 0x34, 0x38, 0x3a, 0x3b, 0x3f);
  const topic = fc.oneof(fc.string(), fc.string({ unit: "binary" }), fc.constant("shed/air"));
  const honest = fc
    .tuple(first, topic, fc.uint8Array({ maxLength: 40 }))
    .map(([head, text, rest]) => {
      const name = Buffer.from(text).subarray(0, 60);
      return Buffer.from([head, 2 + name.length + rest.length, 0, name.length, ...name, ...rest]);
    });
  const noise = fc
    .tuple(first, fc.uint8Array({ maxLength: 100 }))
    .map(([head, rest]) => Buffer.from([head, rest.length, ...rest]));
  let readCount = 0;
  const check = fc.property(fc.oneof(honest, noise), (bytes) => {
    const ours = read(bytes);
    if (ours === null) return;
    readCount += 1;
    const theirs: IPublishPacket[] = [];
    const reading = parser();
    reading.on("packet", (packet) => theirs.push(packet as IPublishPacket));
    reading.on("error", (error) => expect.fail(`mqtt-packet refuses it: ${error.message}`));
    reading.parse(bytes);
    expect(theirs).toMatchObject([{ topic: ours.topic, qos: ours.messageId === null ? 0 : 1 }]);
    expect(theirs[0]!.messageId ?? null).toBe(ours.messageId);
    expect(Buffer.compare(theirs[0]!.payload as Buffer, ours.payload)).toBe(0);
  });
  fc.assert(check, { numRuns: 3_000, seed: 1883 });
  expect(readCount).toBeGreaterThan(200);
});
