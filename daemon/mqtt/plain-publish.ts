/** A PUBLISH at QoS 0 or 1 as nearly all sensors send it. */
export type PlainPublish = Readonly<{
  topic: string;
  /** A view of the bytes it was read from. */
  payload: Uint8Array;
  /** null at QoS 0. */
  messageId: number | null;
}>;

/** First byte at QoS 0 and 1, whatever its DUP and RETAIN (MQTT 3.1.1, section 3.3.1). */
const QOS0 = 0x30;
const QOS1 = 0x32;
const DUP_AND_RETAIN = 0x09;
const DUP = 0x08;

/** Printable ASCII without wildcards, and not one of the topics that begin with "$". */
const PLAIN_TOPIC = /^[ -"%-*,-~][ -"$-*,-~]{0,255}$/;

/**
 * Read a whole packet, if it is a PUBLISH in which nothing is out of the ordinary.
 *
 * It reads what a standard client sends of MQTT 3.1 and 3.1.1 and nothing more, so that all
 * doubtful cases stay with the MQTT library: QoS 2, wildcards, topics beyond ASCII, faults.
 *
 * @param at where the packet begins
 * @param bodyAt where its variable header begins
 * @param end where the next packet begins
 * @returns null where the library must look at it. Never throws.
 */
export function readPlainPublish(
  bytes: Buffer,
  at: number,
  bodyAt: number,
  end: number,
): PlainPublish | null {
  const first = bytes[at]!;
  const kind = first & ~DUP_AND_RETAIN;
  const isQos1 = kind === QOS1;
  if (!isQos1 && (kind !== QOS0 || (first & DUP) !== 0)) return null;
  if (end - bodyAt < 2) return null;
  const topicAt = bodyAt + 2;
  const topicEnd = topicAt + bytes.readUInt16BE(bodyAt);
  const payloadAt = isQos1 ? topicEnd + 2 : topicEnd;
  if (payloadAt > end) return null;
  const topic = bytes.toString("latin1", topicAt, topicEnd);
  const messageId = isQos1 ? bytes.readUInt16BE(topicEnd) : null;
  if (messageId === 0 || !PLAIN_TOPIC.test(topic)) return null;
  return { topic, payload: bytes.subarray(payloadAt, end), messageId };
}
