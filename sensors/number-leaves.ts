import { parseDecimal } from "./decimal.js";
import type { PointerPath } from "./json-pointer.js";

/** A number somewhere in a JSON document, or text that is one, or text that may be a time. */
export type Leaf = Readonly<{ path: PointerPath; value: number | string }>;

// A sensor's message is flat and short; these bounds are for the other kind. Our choice.
const DEEPEST = 6;
const MOST_LEAVES = 200;
const MOST_VISITED = 2_000;

/** The numbers and texts of a JSON document, shallow ones first, within bounds. Never throws. */
export function findLeaves(document: unknown): readonly Leaf[] {
  const leaves: Leaf[] = [];
  const waiting: { path: PointerPath; value: unknown }[] = [{ path: [], value: document }];
  for (let i = 0; i < waiting.length && leaves.length < MOST_LEAVES; i++) {
    const { path, value } = waiting[i]!;
    if (typeof value === "number") leaves.push({ path, value });
    else if (typeof value === "string") leaves.push({ path, value: parseDecimal(value) ?? value });
    else if (typeof value === "object" && value !== null && path.length < DEEPEST) {
      for (const [key, inner] of Object.entries(value)) {
        if (waiting.length >= MOST_VISITED) break;
        waiting.push({ path: [...path, key], value: inner });
      }
    }
  }
  return leaves;
}
