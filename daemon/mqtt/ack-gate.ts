import { Duplex } from "node:stream";
import { headBytes, INCOMPLETE, MALFORMED, PUBACK, PUBREC, readRemaining } from "./packet-head.js";
import type { PacketSieve } from "./packet-sieve.js";

/** Lets one withheld acknowledgement go. Calling it again, or after the close, changes nothing. */
export type Release = () => void;

/** An acknowledgement that may not pass yet, or has not been written yet. */
type Withheld = {
  readonly messageId: number;
  released: boolean;
  /** First byte of the acknowledgement, 0 until the MQTT library has written it. */
  kind: number;
  /** The bytes, where they are not the four of the plain form (MQTT 5 with a reason code). */
  bytes: Buffer | null;
};

/** Fixed header, remaining length, packet identifier (MQTT 3.1.1, section 3.4). */
const PLAIN_ACK_BYTES = 4;

/** Our choice: one socket chunk of small messages never makes the MQTT library wait. */
const WRITE_AHEAD_BYTES = 64 * 1024;

/** Our choice: so many go out at once, so that the sender works on while we do. */
const FLUSH_AT = 256;

/**
 * A connection whose outgoing PUBACK and PUBREC wait until their message is safely stored.
 *
 * MQTT libraries acknowledge as they please: a broker before its handler is called, a client
 * one packet after the other, so that delaying their callback would hold up pings and later
 * readings too. This stands between the library and the socket instead. All bytes pass at once
 * in both directions, but for the acknowledgements of messages that were {@link hold held}: each
 * of those passes when it is released and all held before it have passed, for acknowledgements
 * go out in the order in which their messages came (MQTT 3.1.1 and 5.0, section 4.6).
 *
 * Bound: one entry for each of the 65,535 packet identifiers. Closing drops what is held, and
 * the sender will deliver again.
 */
export class AckGate extends Duplex {
  readonly #line: Duplex;
  /** In the order in which the messages came. */
  readonly #withheld = new Map<number, Withheld>();
  /** Start of an outgoing packet whose head or acknowledgement is not yet whole. */
  #rest: Buffer | null = null;
  /** Bytes still to pass of an outgoing packet that is no acknowledgement. */
  #passingBytes = 0;
  #flushQueued = false;
  /** Since the last flush. */
  #releasedCount = 0;
  #heardAtMs = performance.now();

  /**
   * @param line the socket; the gate takes it over and closes with it
   * @param sieve looks at incoming bytes first; null lets all pass
   */
  constructor(line: Duplex, sieve: PacketSieve | null = null) {
    super({ writableHighWaterMark: WRITE_AHEAD_BYTES, decodeStrings: true });
    this.#line = line;
    line.on("data", (chunk: Buffer) => {
      this.#heardAtMs = performance.now();
      const passed = sieve === null ? chunk : sieve.pass(chunk);
      if (passed !== null && !this.push(passed)) line.pause();
    });
    line.on("end", () => this.push(null));
    line.on("error", (error) => this.destroy(error));
    line.on("close", () => this.destroy());
  }

  /** How many acknowledgements are withheld, or awaited from the library. */
  get heldCount(): number {
    return this.#withheld.size;
  }

  /** When the other side was last heard, on the clock that never jumps, ms. */
  get heardAtMs(): number {
    return this.#heardAtMs;
  }

  /** Whether the acknowledgement of this packet identifier is still withheld. */
  isHolding(messageId: number): boolean {
    return this.#withheld.has(messageId);
  }

  /**
   * Withhold the acknowledgement of a message that has just come in, until its release is called.
   * A redelivery of a message that is still held shares the entry of the first.
   */
  hold(messageId: number): Release {
    return this.#releaseOf(this.#entryOf(messageId));
  }

  #entryOf(messageId: number): Withheld {
    const known = this.#withheld.get(messageId);
    if (known !== undefined) return known;
    const entry: Withheld = { messageId, released: false, kind: 0, bytes: null };
    this.#withheld.set(messageId, entry);
    return entry;
  }

  #releaseOf(entry: Withheld): Release {
    return () => {
      if (entry.released) return;
      entry.released = true;
      this.#releasedCount += 1;
      if (this.#releasedCount >= FLUSH_AT) this.#flush();
      else if (entry.kind !== 0) this.#queueFlush();
    };
  }

  /**
   * Like {@link hold}, for a message that the MQTT library will not acknowledge itself: the gate
   * writes the acknowledgement, in its turn.
   */
  owe(messageId: number, kind: typeof PUBACK | typeof PUBREC): Release {
    const entry = this.#entryOf(messageId);
    entry.kind ||= kind;
    return this.#releaseOf(entry);
  }

  override _read(): void {
    this.#line.resume();
  }

  override _write(chunk: Buffer, _encoding: string, done: (error?: Error | null) => void): void {
    this.#send(chunk, done);
  }

  override _writev(
    chunks: Array<{ chunk: Buffer; encoding: string }>,
    done: (error?: Error | null) => void,
  ): void {
    this.#send(Buffer.concat(chunks.map(({ chunk }) => chunk)), done);
  }

  override _final(done: (error?: Error | null) => void): void {
    this.#line.end(() => done());
  }

  override _destroy(error: Error | null, done: (error?: Error | null) => void): void {
    this.#withheld.clear();
    this.#line.destroy();
    done(error);
  }

  #send(written: Buffer, done: (error?: Error | null) => void): void {
    const bytes = this.#rest === null ? written : Buffer.concat([this.#rest, written]);
    this.#rest = null;
    let open = true;
    for (const passing of this.#sift(bytes)) open = this.#line.write(passing);
    if (open) done();
    else this.#line.once("drain", () => done());
  }

  /** Take the withheld acknowledgements out of outgoing bytes; what is left may pass. */
  #sift(bytes: Buffer): Buffer[] {
    const passing: Buffer[] = [];
    let at = 0;
    let passFrom = 0;
    let took = false;
    while (at < bytes.length) {
      if (this.#passingBytes > 0) {
        const step = Math.min(this.#passingBytes, bytes.length - at);
        this.#passingBytes -= step;
        at += step;
        continue;
      }
      const remaining = readRemaining(bytes, at + 1);
      // A library that writes nonsense is not ours to mend: the peer will close.
      if (remaining === MALFORMED) this.#passingBytes = Number.POSITIVE_INFINITY;
      if (remaining === MALFORMED) continue;
      const kind = bytes[at]! & 0xf0;
      const isAck = kind === PUBACK || kind === PUBREC;
      const size = remaining === INCOMPLETE ? 0 : headBytes(bytes, at) + remaining;
      if (remaining === INCOMPLETE || (isAck && at + size > bytes.length)) {
        this.#rest = bytes.subarray(at);
        break;
      }
      if (!isAck) this.#passingBytes = size;
      else if (this.#withhold(bytes, at, size)) {
        if (at > passFrom) passing.push(bytes.subarray(passFrom, at));
        at += size;
        passFrom = at;
        took = true;
      } else at += size;
    }
    if (at > passFrom) passing.push(bytes.subarray(passFrom, at));
    if (took) this.#queueFlush();
    return passing;
  }

  #withhold(bytes: Buffer, at: number, size: number): boolean {
    const entry = this.#withheld.get(bytes.readUInt16BE(at + size - readRemaining(bytes, at + 1)));
    if (entry === undefined) return false;
    entry.kind = bytes[at]!;
    if (size !== 4) entry.bytes = Buffer.from(bytes.subarray(at, at + size));
    return true;
  }

  /** One write for all that is released in one turn: a commit releases hundreds at once. */
  #queueFlush(): void {
    if (this.#flushQueued) return;
    this.#flushQueued = true;
    process.nextTick(() => this.#flush());
  }

  #flush(): void {
    this.#flushQueued = false;
    this.#releasedCount = 0;
    if (this.destroyed || this.#line.destroyed || this.#line.writableEnded) return;
    let size = 0;
    const going: Withheld[] = [];
    for (const entry of this.#withheld.values()) {
      if (!entry.released || entry.kind === 0) break;
      going.push(entry);
      size += entry.bytes === null ? PLAIN_ACK_BYTES : entry.bytes.length;
    }
    if (size === 0) return;
    const bytes = Buffer.allocUnsafe(size);
    let at = 0;
    for (const entry of going) {
      this.#withheld.delete(entry.messageId);
      at = writeAck(bytes, at, entry);
    }
    this.#line.write(bytes);
  }
}

/** @returns where the next one goes */
function writeAck(target: Buffer, at: number, { messageId, kind, bytes }: Withheld): number {
  if (bytes !== null) return at + bytes.copy(target, at);
  target[at] = kind;
  target[at + 1] = 2;
  target[at + 2] = messageId >> 8;
  target[at + 3] = messageId & 0xff;
  return at + PLAIN_ACK_BYTES;
}
