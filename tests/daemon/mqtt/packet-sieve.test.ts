import fc from "fast-check";
import { generate, type Packet, parser } from "mqtt-packet";
import { expect, test } from "vitest";
import {
  type Oversize,
  PACKET_BYTES_MOST,
  PacketSieve,
} from "../../../daemon/mqtt/packet-sieve.js";

const publish = (topic: string, bytes: number, qos: 0 | 1 | 2, messageId = 77): Buffer =>
  generate({
    cmd: "publish",
    topic,
    payload: Buffer.alloc(bytes, 0x30),
    qos,
    messageId,
    dup: false,
    retain: false,
  } as Packet);

function run(bytes: Buffer, sizes: readonly number[]): { passed: Buffer; refused: Oversize[] } {
  const refused: Oversize[] = [];
  const sieve = new PacketSieve((packet) => refused.push(packet));
  const passed: Buffer[] = [];
  for (let at = 0, i = 0; at < bytes.length; i++) {
    const size = sizes[i % sizes.length]!;
    const kept = sieve.pass(bytes.subarray(at, at + size));
    if (kept !== null) passed.push(kept);
    at += size;
  }
  return { passed: Buffer.concat(passed), refused };
}

test("a message of 64 KiB passes, a packet over the limit does not", () => {
  const fits = publish("a/b", 64 * 1024, 1);
  expect(run(fits, [fits.length]).passed.equals(fits)).toBe(true);
  // Remaining length: topic length 2, topic 3, identifier 2, payload.
  const justFits = publish("a/b", PACKET_BYTES_MOST - 7, 1);
  expect(run(justFits, [100_000]).refused).toEqual([]);
  const tooLarge = publish("a/b", PACKET_BYTES_MOST - 6, 1);
  const { passed, refused } = run(tooLarge, [100_000]);
  expect(passed.length).toBe(0);
  expect(refused).toEqual([{ topic: "a/b", messageId: 77, qos: 1, bytes: PACKET_BYTES_MOST + 1 }]);
});

test("a huge packet is known by its topic before it has come", () => {
  const refused: Oversize[] = [];
  const sieve = new PacketSieve((packet) => refused.push(packet));
  sieve.pass(publish("a/b", 1_000_000, 2).subarray(0, 12));
  expect(refused).toMatchObject([{ topic: "a/b", messageId: 77, qos: 2 }]);
});

test("something huge that is no message has no topic", () => {
  const refused: Oversize[] = [];
  new PacketSieve((packet) => refused.push(packet)).pass(
    Buffer.from([0x10, 0xff, 0xff, 0x7f, 0, 4]),
  );
  expect(refused).toMatchObject([{ topic: null, messageId: null }]);
});

test("a length that no standard allows is left to the parser", () => {
  const bytes = Buffer.from([0x30, 0xff, 0xff, 0xff, 0xff, 1, 2, 3]);
  expect(run(bytes, [3]).passed.equals(bytes)).toBe(true);
});

test("however bytes are cut into chunks, only packets over the limit are missing", () => {
  const packets = fc.array(fc.oneof(fc.nat(300), fc.constant(70_000)), { maxLength: 8 });
  const sizes = fc.array(fc.integer({ min: 1, max: 30_000 }), { minLength: 1, maxLength: 9 });
  const check = fc.property(packets, sizes, fc.constantFrom(0, 1, 2), (lengths, cuts, qos) => {
    const all = lengths.map((bytes, i) => publish(`t/${i}`, bytes, qos as 0 | 1 | 2, 1 + i));
    const { passed, refused } = run(Buffer.concat(all), cuts);
    const small = all.filter((_, i) => lengths[i]! < 70_000);
    expect(passed.equals(Buffer.concat(small))).toBe(true);
    const large = lengths.flatMap((bytes, i) => (bytes < 70_000 ? [] : [`t/${i}`]));
    expect(refused.map(({ topic }) => topic)).toEqual(large);
  });
  fc.assert(check, { numRuns: 200, seed: 1883 });
});

test("while the short way is open it takes plain messages, and all others pass in their order", () => {
  const kinds = fc.constantFrom("plain", "qos2", "ping", "long", "huge");
  const sizes = fc.array(fc.integer({ min: 1, max: 900 }), { minLength: 1, maxLength: 9 });
  const check = fc.property(fc.array(kinds, { maxLength: 30 }), sizes, (packets, cuts) => {
    const bytesOf = (kind: string, i: number) => {
      if (kind === "ping") return generate({ cmd: "pingreq" });
      const bytes = { plain: 40, qos2: 40, long: 2_000, huge: 70_000 }[kind]!;
      return publish(`${kind}/${i}`, bytes, kind === "qos2" ? 2 : 1, 1 + i);
    };
    const all = packets.map(bytesOf);
    const taken: string[] = [];
    const passed: Buffer[] = [];
    const refused: string[] = [];
    // As the broker does: closed as long as the library has not seen all that was passed on.
    let unread = 0;
    const sieve = new PacketSieve(({ topic }) => refused.push(topic!), {
      isOpen: () => unread === 0,
      take: ({ topic }) => taken.push(topic),
    });
    const stream = Buffer.concat(all);
    for (let at = 0, i = 0; at < stream.length; i++) {
      const size = cuts[i % cuts.length]!;
      const kept = sieve.pass(stream.subarray(at, at + size));
      if (kept !== null) passed.push(kept);
      unread = kept === null ? 0 : 1 - unread;
      at += size;
    }
    const left: string[] = [];
    const reading = parser();
    reading.on("packet", (packet) => left.push(packet.cmd === "publish" ? packet.topic : "ping"));
    reading.parse(Buffer.concat(passed));
    const topicOf = (kind: string, i: number) => (kind === "ping" ? "ping" : `${kind}/${i}`);
    const sent = packets.map(topicOf);
    expect(taken.every((topic) => topic.startsWith("plain/"))).toBe(true);
    expect(taken).toEqual(sent.filter((topic) => taken.includes(topic)));
    const rest = sent.filter((topic) => !taken.includes(topic) && !topic.startsWith("huge/"));
    expect(left).toEqual(rest);
    expect(refused).toEqual(sent.filter((topic) => topic.startsWith("huge/")));
  });
  fc.assert(check, { numRuns: 200, seed: 1884 });
});

test("a plain message in pieces is taken once it is whole", () => {
  const taken: string[] = [];
  const sieve = new PacketSieve(() => {}, {
    isOpen: () => true,
    take: ({ topic }) => taken.push(topic),
  });
  for (const byte of publish("a/b", 40, 1)) expect(sieve.pass(Buffer.from([byte]))).toBeNull();
  expect(taken).toEqual(["a/b"]);
});
