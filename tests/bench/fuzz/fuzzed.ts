import fc from "fast-check";
import type { Chamber } from "../../../shared/site.js";

/** A parser of bytes from outside, and what to throw at it. */
export type Fuzzed = Readonly<{
  name: string;
  input: fc.Arbitrary<unknown>;
  /** How many inputs it gets beside the others: fewer where each costs a file or a page. */
  weight: number;
  /** Inputs that are tried before all others. */
  corpus: readonly unknown[];
  /** Reads one input. Throws when the input broke it, or what it made of it is not bounded. */
  read(value: unknown): void | Promise<void>;
}>;

/** Name a parser, so that its inputs fit what reads them. */
export function fuzzed<Value>(
  name: string,
  input: fc.Arbitrary<Value>,
  corpus: readonly Value[],
  read: (value: Value) => void | Promise<void>,
  weight = 10,
): Fuzzed {
  return { name, input, weight, corpus, read: read as Fuzzed["read"] };
}

/** @throws {Error} saying what is not so */
export function insist(isSo: boolean, what: string): void {
  if (!isSo) throw new Error(what);
}

/** Text of any length and script, half surrogates and control characters among it. */
export const anyText = fc.oneof(
  fc.string({ unit: "binary" }),
  fc.string({ unit: "grapheme" }),
  fc.string(),
  // Long and of one kind, for what tries each place anew.
  fc
    .tuple(fc.constantFrom(" ", "1", '"', ",", "[", "\n", "\u0301", "a.", "="), fc.nat(4_000))
    .map(([piece, count]) => `${piece.repeat(count)}x`),
);

/** The same as bytes, which need not be UTF-8. */
export const anyBytes = fc.oneof(
  fc.uint8Array({ maxLength: 400 }),
  anyText.map((text) => Buffer.from(text, "utf8")),
);

export const SHED: Chamber = {
  id: "shed",
  species: "osmia-bicornis",
  bandC: { low: 1.1, high: 3.3 },
  humidityBandPct: { low: 60, high: 70 },
  cocoonLagMs: null,
};
