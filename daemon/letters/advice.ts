import type { Direction } from "./body.js";

/** What a letter says for one cause. All of it is plain text, in whole sentences. */
export type Advice = Readonly<{
  /** Two or three words for lists: "door ajar". */
  name: string;
  direction: Direction | null;
  /** The direction in words, or what else is wrong: "too warm". */
  state: string;
  /** What to do, as an instruction without a full stop: "Shut the fridge door". */
  deed: string;
  /** What seems to be so. Said with the doubt that belongs to it. */
  happened: string;
  /** The same once it is over. */
  wasSo: string;
  steps: readonly string[];
  cautions: readonly string[];
  /** The instruction once it is over; the place is added after it. */
  over: string;
  /** What to see to afterwards. */
  afterwards: readonly string[];
}>;
