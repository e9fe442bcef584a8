import type { NewLetter } from "../store/records.js";
import { type LetterBody, saying, telling } from "./body.js";
import { finishLetter } from "./finish-letter.js";
import { type LetterContext, signatureOf } from "./letter-context.js";
import { oneLine } from "./one-line.js";
import { momentWords } from "./time-words.js";

/** A store that was damaged and what stands in its place. Files are shown as they are named. */
export type Recovered = Readonly<{
  atMs: number;
  /** When the copy was made that stands in its place; null where the store began anew. */
  copiedAtMs: number | null;
  damagedFile: string;
}>;

/** The letter that says that a damaged store was replaced. Pure; never throws. */
export function composeRecovered(recovered: Recovered, context: LetterContext): NewLetter {
  const { atMs, copiedAtMs, damagedFile } = recovered;
  const place = oneLine(context.site.name, 80);
  const words = (ms: number) => momentWords(ms, context.site.timezone);
  const lost =
    copiedAtMs === null
      ? "There was no sound copy, so the record begins anew. What was written before lies in the " +
        "damaged file only."
      : `The copy of ${words(copiedAtMs)} stands in its place. What was written between then and ` +
        `${words(atMs)} lies in the damaged file only: readings, letters and journal entries.`;
  const body: LetterBody = {
    direction: null,
    aside: `${place}: the board`,
    deed: "Look at the card or disk that Drowse writes to, and think of replacing it.",
    sections: [
      telling(
        "What happened",
        `At ${words(atMs)} SQLite found the store damaged. A worn card, a power cut during a ` +
          "write, or a disk that fails are what usually does it.",
        lost,
        "The watch over the cocoons went on and goes on.",
      ),
      telling("Where the damaged file is", oneLine(damagedFile, 300)),
    ],
    stepsAfter: 1,
    stepsHeading: "What to do",
    steps: [
      "Copy the store to another disk or stick now: drowse copy, with a file's name.",
      "Write again into the journal what you did since then, where it is missing.",
      "If it happens again, replace the card or disk before anything else.",
    ],
    cautions: [],
    closing: [saying("You need not keep the damaged file; it is there in case it is of use.")],
    signature: signatureOf(context),
  };
  const heading = {
    id: `board/recovered/${atMs}`,
    kind: "board",
    excursionId: null,
    createdAtMs: atMs,
    subject: `Check the card: the store was damaged, ${place}`,
  } as const;
  return finishLetter(heading, body, { ...context, earlier: [] });
}
