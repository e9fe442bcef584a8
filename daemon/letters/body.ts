import type { LetterPicture } from "./letter-picture.js";

/** Which way things went. It gives a colour and a hatching, never a rank. */
export type Direction = "warm" | "cold" | "damp" | "dry";

/** One line of a small table of values. */
export type Figure = Readonly<{ label: string; value: string; remark: string | null }>;

/** A part under its own heading; sentences first, then points, then figures. */
export type Section = Readonly<{
  heading: string;
  sentences: readonly string[];
  /** Sentences that each stand alone, set as a list. */
  points?: readonly string[];
  figures: readonly Figure[];
  /** Stands under all of it; the letter is whole without. */
  picture?: LetterPicture | null;
}>;

/** A sentence, with the command to type where it speaks of one. */
export type Answer = Readonly<{ sentence: string; command: string | null }>;

/**
 * What a letter says, before it is set as text or as HTML. Everything in it is plain text: the
 * setters escape, so nothing here may hold markup.
 */
export type LetterBody = Readonly<{
  direction: Direction | null;
  /** A few words above the deed: the place, the direction, the urgency. */
  aside: string;
  /** The first line: what to do. */
  deed: string;
  sections: readonly Section[];
  /** Where `steps` and `cautions` stand: after this many of `sections`. */
  stepsAfter: number;
  stepsHeading: string;
  steps: readonly string[];
  /** What can hurt while doing it. */
  cautions: readonly string[];
  /** How to answer and what comes next. */
  closing: readonly Answer[];
  /** One line on who writes. */
  signature: string;
}>;

/** A section of sentences only. */
export function telling(heading: string, ...sentences: readonly string[]): Section {
  return { heading, sentences, figures: [] };
}

/** An answer without a command. */
export function saying(sentence: string): Answer {
  return { sentence, command: null };
}
