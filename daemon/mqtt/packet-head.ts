/**
 * MQTT control packet types, as the upper four bits of a packet's first byte.
 * MQTT 3.1.1 and 5.0, table 2.1.
 */
export const PUBLISH = 0x30;
export const PUBACK = 0x40;
export const PUBREC = 0x50;

/** No remaining length takes more than four bytes (MQTT 3.1.1 and 5.0, section 2.2.3 and 1.5.5). */
const LENGTH_BYTES_MOST = 4;

/** `remaining` of {@link readHead} when the length itself is still incomplete, or is malformed. */
export const INCOMPLETE = -1;
export const MALFORMED = -2;

/**
 * The remaining length that is written from `from` on: bytes that follow the fixed header.
 *
 * @returns the length, {@link INCOMPLETE} or {@link MALFORMED}; never throws
 */
export function readRemaining(bytes: Uint8Array, from: number): number {
  let remaining = 0;
  for (let i = 0; i < LENGTH_BYTES_MOST; i++) {
    const byte = bytes[from + i];
    if (byte === undefined) return INCOMPLETE;
    remaining += (byte & 0x7f) * 2 ** (7 * i);
    if (byte < 0x80) return remaining;
  }
  return MALFORMED;
}

/** How many bytes a remaining length takes on the wire when written as short as can be. */
export function headBytes(bytes: Uint8Array, at: number): number {
  let used = 2;
  while (used <= LENGTH_BYTES_MOST && (bytes[at + used - 1] ?? 0) >= 0x80) used++;
  return used;
}
