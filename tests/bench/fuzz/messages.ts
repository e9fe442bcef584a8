import fc from "fast-check";
import { parse } from "smol-toml";
import { type Oversize, PacketSieve } from "../../../daemon/mqtt/packet-sieve.js";
import { type Arrival, openDecoder } from "../../../sensors/decode.js";
import type { ProbeSource } from "../../../sensors/source.js";
import { suggestProbe } from "../../../sensors/suggestion.js";
import { coversFilter, findTopicFilterFault, matchesTopic } from "../../../sensors/topic-filter.js";
import { anyBytes, anyText, type Fuzzed, fuzzed, insist } from "./fuzzed.js";

const source = (probeId: string, more: Partial<ProbeSource>): ProbeSource => ({
  ...{ probeId, topic: "quillmere/#", payload: "json", temperature: "/t", humidity: "/h" },
  ...{ time: "/at", unit: "C", quantity: "temperature" },
  ...more,
});
const DECODER = openDecoder([
  source("json", {}),
  source("number", { payload: "number", temperature: null, humidity: null, time: null }),
  source("senml", { payload: "senml", temperature: null, humidity: null, time: null }),
]);

const utf8 = (text: string) => new TextEncoder().encode(text);
const field = fc.oneof(fc.double(), fc.string(), fc.boolean(), fc.constant(null), fc.constant([]));
const labels = fc.constantFrom("bn", "bt", "bu", "bv", "n", "u", "v", "vs", "t", "h", "at", "x_");
const record = fc.dictionary(labels, fc.oneof(field, fc.constantFrom("Cel", "%RH", "K")), {
  noNullPrototype: true,
});
const payload = fc.oneof(
  anyBytes,
  fc.json({ maxDepth: 6 }).map(utf8),
  record.map((value) => utf8(JSON.stringify(value))),
  fc.array(record).map((pack) => utf8(JSON.stringify(pack))),
  fc.double().map((value) => utf8(String(value))),
  // Deep, for what is recursive.
  fc.nat(20_000).map((depth) => utf8("[".repeat(depth))),
);
const topic = fc.oneof(
  fc.constantFrom("quillmere/shed/air", "quillmere", "$SYS/x", "/", "a//b"),
  fc
    .array(fc.constantFrom("a", "+", "#", "", "$", "é"), { maxLength: 200 })
    .map((levels) => levels.join("/")),
  anyText,
);
type Message = [bytes: Uint8Array, on: string, isRetained: boolean, ms: number];

const MESSAGES: readonly Message[] = [
  "[".repeat(65_536),
  '{"t":'.repeat(12_000),
  `{"t":${"9".repeat(60_000)},"h":1e999}`,
  `{"t":"${"1".repeat(65_000)}"}`,
  `[${'{"v":1},'.repeat(8_000)}{"v":1}]`,
  `[{"bn":"a","bu":"Cel"}${',{"v":1e9}'.repeat(6_000)}]`,
  `${"1".repeat(65_000)}e`,
  '{"__proto__":{"t":2},"toString":1}',
  '{"t":{"toString":null,"valueOf":null},"h":[[]],"at":{}}',
  '[{"bn":"\ud800","u":"Cel","v":-0,"bt":-1e308,"t":1e308}]',
].map((text) => [utf8(text), "quillmere/shed/air", false, 1.8e12]);

function readMessage([bytes, on, retained, ms]: Message): void {
  const arrivedAtMs = Math.abs(ms % 4e12) || 0;
  const arrival: Arrival = { topic: on, payload: bytes, retained, arrivedAtMs, clockSane: ms > 0 };
  for (const decoded of DECODER.decode(arrival))
    if (decoded.kind === "rejected") {
      insist(/^[\p{L}\p{N}\p{P}\p{S} ]{1,200}$/u.test(decoded.detail), `detail ${decoded.detail}`);
    }
  const entry = suggestProbe(on, bytes);
  insist(entry === null || typeof parse(entry) === "object", "an entry that is no TOML");
}

function readTopics([filter, name]: [string, string]): void {
  if (findTopicFilterFault(filter) !== null) return;
  const isCovered = coversFilter(filter, name);
  insist(!isCovered || /[+#]/.test(name) || matchesTopic(filter, name), "covered, not matched");
}

const packet = fc
  .tuple(
    fc.constantFrom(0x10, 0x30, 0x31, 0x32, 0x33, 0x34, 0x36, 0x3a, 0x40, 0x82, 0xc0),
    fc.oneof(fc.nat(200), fc.constantFrom(0, 127, 128, 16_383, 66_000, 0x0fffffff)),
    fc.uint8Array({ maxLength: 120 }),
    fc.boolean(),
  )
  .map(([first, announced, body, isHonest]) => {
    const length: number[] = [];
    let left = isHonest ? body.length : announced;
    do {
      length.push((left % 128) | (left >= 128 ? 0x80 : 0));
      left = Math.floor(left / 128);
    } while (left > 0);
    return Buffer.from([first, ...length, ...body]);
  });
type Stream = [bytes: Buffer, chunkBytes: number, isOpen: boolean];
const stream: fc.Arbitrary<Stream> = fc.tuple(
  fc.oneof(
    fc.array(packet, { maxLength: 12 }).map((all) => Buffer.concat(all)),
    fc.uint8Array({ maxLength: 300 }).map((bytes) => Buffer.from(bytes)),
  ),
  fc.integer({ min: 1, max: 400 }),
  fc.boolean(),
);

function readStream([bytes, chunkBytes, isOpen]: Stream): void {
  const large: Oversize[] = [];
  let takenBytes = 0;
  const sieve = new PacketSieve((one) => large.push(one), {
    isOpen: () => isOpen,
    take: (publish) => {
      takenBytes += publish.payload.length + publish.topic.length;
      insist(publish.topic.length > 0 && !/[#+]/.test(publish.topic), "a topic that is none");
    },
  });
  let passedBytes = 0;
  for (let at = 0; at < bytes.length; at += chunkBytes)
    passedBytes += sieve.pass(bytes.subarray(at, at + chunkBytes))?.length ?? 0;
  insist(passedBytes + takenBytes <= bytes.length, "more came out than went in");
}

/** What comes by MQTT. */
export const MESSAGE_PARSERS: readonly Fuzzed[] = [
  fuzzed("payloads", fc.tuple(payload, topic, fc.boolean(), fc.double()), MESSAGES, readMessage),
  fuzzed(
    "topics and filters",
    fc.tuple(topic, topic),
    [
      ["+/".repeat(30_000), "a/".repeat(30_000)],
      ["#", "/"],
    ],
    readTopics,
  ),
  // An announced length of five bytes, and one PUBLISH that ends in its topic.
  fuzzed(
    "MQTT packets",
    stream,
    [
      [Buffer.from([0x30, 0xff, 0xff, 0xff, 0xff, 0x7f]), 1, true],
      [Buffer.from([0x32, 0x03, 0x00, 0x01, 0x61]), 2, true],
    ],
    readStream,
  ),
];
