import { openJsonReader } from "./json-payload.js";
import { type Content, faulty } from "./measurement.js";
import { readNumberPayload } from "./number-payload.js";
import { printable } from "./printable.js";
import { readSenmlPayload } from "./senml-payload.js";
import type { ProbeSource } from "./source.js";

/** A payload's bytes as text and as JSON, each null where they are not. */
export type Payload = Readonly<{
  text: string | null;
  /** In an object, since JSON's own null is a document too. */
  document: Readonly<{ value: unknown }> | null;
}>;

/** Longest payload that is looked at, bytes. */
export const LARGEST_PAYLOAD_BYTES = 64 * 1024;

const UTF8 = new TextDecoder("utf-8", { fatal: true });

/**
 * Read bytes as UTF-8 and as JSON (RFC 8259), as far as they are. Of a member named twice the
 * last counts. Never throws; the caller bounds the size.
 */
export function parsePayload(bytes: Uint8Array): Payload {
  let text: string | null = null;
  try {
    text = UTF8.decode(bytes);
    return { text, document: { value: JSON.parse(text) } };
  } catch {
    return { text, document: null };
  }
}

/** Make ready to say what payloads say of one probe. What is returned never throws. */
export function openPayloadReader(source: ProbeSource): (payload: Payload) => Content {
  if (source.payload === "number")
    return ({ text }) =>
      text === null
        ? faulty("not-a-number", "payload: not UTF-8")
        : readNumberPayload(text, source);
  const isJson = source.payload === "json";
  const readJson = openJsonReader(source);
  return ({ text, document }) => {
    if (document === null) {
      const found = text === null ? "not UTF-8" : `found "${printable(text, 60)}"`;
      return faulty(isJson ? "not-json" : "not-senml", `payload: ${found}`);
    }
    return isJson ? readJson(document.value) : readSenmlPayload(document.value, source);
  };
}
