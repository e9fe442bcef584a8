// Letters, digits, punctuation and symbols. Not controls, which steer a terminal; not format
// characters, which reverse text; not combining marks, which pile up on their neighbours.
const UNPRINTABLE = /[^\p{L}\p{N}\p{P}\p{S} ]/gu;

/**
 * A stranger's text made safe to show in a terminal, a log or a letter: one line, at most `most`
 * UTF-16 units, ending in "…" where it was cut. Unprintable characters become "�", white space
 * a space. Never throws.
 */
export function printable(text: string, most: number): string {
  const kept = text.length > most ? `${text.slice(0, most - 1)}…` : text;
  return kept.replace(/\s/g, " ").replace(UNPRINTABLE, "�");
}

/** What arrived instead of what was expected, in a few words: `"cold"`, `3`, `an object`. */
export function describeValue(value: unknown): string {
  if (typeof value === "string") return `"${printable(value, 40)}"`;
  if (Array.isArray(value)) return "a list";
  if (typeof value === "object" && value !== null) return "an object";
  return printable(String(value), 40);
}

const LENIENT = new TextDecoder("utf-8");

/** The beginning of a payload made safe to show, at most `most` UTF-16 units. Never throws. */
export function printablePayload(payload: Uint8Array, most: number): string {
  // A UTF-16 unit comes of at most three bytes, and one more must be seen to know of the cut.
  return printable(LENIENT.decode(payload.subarray(0, 3 * (most + 1))), most);
}
