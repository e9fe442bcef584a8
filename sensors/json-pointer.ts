/** The reference tokens of a JSON Pointer, unescaped. */
export type PointerPath = readonly string[];

/**
 * Take a JSON Pointer apart.
 *
 * @returns null where the text is no JSON Pointer. Never throws.
 *
 * Source: RFC 6901, sections 3 and 4.
 */
export function parsePointer(pointer: string): PointerPath | null {
  if (pointer === "") return [];
  if (!pointer.startsWith("/") || /~(?![01])/.test(pointer)) return null;
  // "~1" first, then "~0", so that "~01" becomes "~1" and not "/" (section 4).
  const unescaped = (token: string) => token.replaceAll("~1", "/").replaceAll("~0", "~");
  return pointer.slice(1).split("/").map(unescaped);
}

/** Write reference tokens as a JSON Pointer. */
export function formatPointer(path: PointerPath): string {
  return path.map((token) => `/${token.replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}

// Section 4: "0", or digits without a leading zero.
const ARRAY_INDEX = /^(?:0|[1-9]\d{0,9})$/;

/**
 * What a JSON Pointer points to in a JSON value, or undefined where there is nothing.
 *
 * Ours, though the library `jsonpointer` exists: that one looks past the document into
 * JavaScript, so that "/samples/length" reads a number and "/constructor" a function where the
 * document has neither. Only own members of objects and elements of arrays count here.
 *
 * Source: RFC 6901, section 4; "-" is the element after the last and so is never there.
 */
export function followPointer(document: unknown, path: PointerPath): unknown {
  let value = document;
  for (const token of path) {
    if (typeof value !== "object" || value === null) return undefined;
    if (Array.isArray(value) && !ARRAY_INDEX.test(token)) return undefined;
    if (!Object.hasOwn(value, token)) return undefined;
    value = (value as Record<string, unknown>)[token];
  }
  return value;
}
