import { headBytes, INCOMPLETE, MALFORMED, PUBLISH, readRemaining } from "./packet-head.js";
import { type PlainPublish, readPlainPublish } from "./plain-publish.js";

/** What is known of a packet that was too large to let in. */
export type Oversize = Readonly<{
  /** null when it was no PUBLISH; such a connection is best closed. */
  topic: string | null;
  /** null at QoS 0. */
  messageId: number | null;
  qos: number;
  bytes: number;
}>;

/** Largest payload that is looked at: 64 KiB, our choice; a reading takes some 50 bytes. */
const PAYLOAD_BYTES_MOST = 64 * 1024;

/** Room for topic, identifier and MQTT 5 properties besides the payload; our choice. */
export const PACKET_BYTES_MOST = PAYLOAD_BYTES_MOST + 1024;

/** A way past the MQTT library for messages that need nothing of it. */
export type ShortWay = Readonly<{
  /** Whether the library has worked off all it was given, and has nothing to do with a message. */
  isOpen(): boolean;
  take(publish: PlainPublish): void;
}>;

/** A longer packet is no plain reading, and would be copied anew with each chunk of it; our choice. */
const SHORT_WAY_BYTES_MOST = 1024;

/**
 * Looks at incoming MQTT bytes as they arrive and takes out each packet that announces more than
 * {@link PACKET_BYTES_MOST}, before anything buffers it; and each plain message, while a
 * {@link ShortWay} is open.
 *
 * Closing the connection on a large one instead would make a sender that must deliver (QoS 1) try
 * the same message again for ever. Bound: what it keeps itself is one topic of at most 65,535
 * bytes, or a kilobyte of a plain message.
 */
export class PacketSieve {
  readonly #onOversize: (packet: Oversize) => void;
  readonly #shortWay: ShortWay | null;
  #rest: Buffer | null = null;
  #passingBytes = 0;
  #skippingBytes = 0;
  #skipped: { head: Buffer; first: number; bytes: number } | null = null;

  /** @param onOversize called once for each large packet, as soon as its topic is known */
  constructor(onOversize: (packet: Oversize) => void, shortWay: ShortWay | null = null) {
    this.#onOversize = onOversize;
    this.#shortWay = shortWay;
  }

  /** The part of a chunk that may go on, null if nothing is left of it. Never throws. */
  pass(chunk: Buffer): Buffer | null {
    const bytes = this.#rest === null ? chunk : Buffer.concat([this.#rest, chunk]);
    this.#rest = null;
    const isBetweenPackets = this.#passingBytes === 0 && this.#skippingBytes === 0;
    const at = isBetweenPackets && this.#shortWay?.isOpen() ? this.#takePlain(bytes) : 0;
    return this.#sift(at === 0 ? bytes : bytes.subarray(at));
  }

  /** Take plain messages up to the first packet that is none. @returns where that begins */
  #takePlain(bytes: Buffer): number {
    let at = 0;
    while (at < bytes.length && (bytes[at]! & 0xf0) === PUBLISH) {
      const remaining = readRemaining(bytes, at + 1);
      if (remaining < 0 || remaining > SHORT_WAY_BYTES_MOST) return at;
      const bodyAt = at + headBytes(bytes, at);
      const end = bodyAt + remaining;
      if (end > bytes.length) {
        this.#rest = bytes.subarray(at);
        return bytes.length;
      }
      const publish = readPlainPublish(bytes, at, bodyAt, end);
      if (publish === null) return at;
      this.#shortWay!.take(publish);
      at = end;
    }
    return at;
  }

  #sift(bytes: Buffer): Buffer | null {
    const kept: Buffer[] = [];
    let at = 0;
    let keepFrom = 0;
    while (at < bytes.length) {
      if (this.#skippingBytes > 0) {
        const step = Math.min(this.#skippingBytes, bytes.length - at);
        this.#learn(bytes.subarray(at, at + step));
        this.#skippingBytes -= step;
        at += step;
        keepFrom = at;
        continue;
      }
      if (this.#passingBytes > 0) {
        const step = Math.min(this.#passingBytes, bytes.length - at);
        this.#passingBytes -= step;
        at += step;
        continue;
      }
      const remaining = readRemaining(bytes, at + 1);
      if (remaining === INCOMPLETE) {
        this.#rest = bytes.subarray(at);
        break;
      }
      // The MQTT parser behind refuses it and closes.
      if (remaining === MALFORMED) this.#passingBytes = Number.POSITIVE_INFINITY;
      else if (remaining <= PACKET_BYTES_MOST)
        this.#passingBytes = headBytes(bytes, at) + remaining;
      else {
        if (at > keepFrom) kept.push(bytes.subarray(keepFrom, at));
        this.#skipped = { head: Buffer.alloc(0), first: bytes[at]!, bytes: remaining };
        at += headBytes(bytes, at);
        keepFrom = at;
        this.#skippingBytes = remaining;
      }
    }
    if (at > keepFrom) kept.push(bytes.subarray(keepFrom, at));
    if (kept.length <= 1) return kept[0] ?? null;
    return Buffer.concat(kept);
  }

  /** Read on in a skipped packet until its topic and identifier are known. */
  #learn(bytes: Buffer): void {
    const skipped = this.#skipped;
    if (skipped === null) return;
    const isPublish = (skipped.first & 0xf0) === PUBLISH;
    const qos = (skipped.first >> 1) & 3;
    const head = Buffer.concat([skipped.head, bytes.subarray(0, 65_540 - skipped.head.length)]);
    skipped.head = head;
    const topicBytes = head.length < 2 ? null : head.readUInt16BE(0);
    const needed = topicBytes === null ? 2 : 2 + topicBytes + (qos > 0 ? 2 : 0);
    if (isPublish && head.length < needed) return;
    this.#skipped = null;
    const topic = isPublish ? head.toString("utf8", 2, 2 + (topicBytes ?? 0)) : null;
    const messageId = isPublish && qos > 0 ? head.readUInt16BE(needed - 2) : null;
    this.#onOversize({ topic, messageId, qos, bytes: skipped.bytes });
  }
}
