import type { NewLetter } from "../store/records.js";
import { type LetterBody, saying, telling } from "./body.js";
import { finishLetter } from "./finish-letter.js";
import { type LetterContext, signatureOf } from "./letter-context.js";
import { oneLine } from "./one-line.js";
import { momentWords } from "./time-words.js";

const STEPS = [
  "See what fills the disk: df -h, and du -sh of the larger folders.",
  "Old copies of the store may go; set copies_folder to another disk.",
  "If the disk has room, it may have turned read-only because it fails: replace it.",
];
const READ_ONLY_STEPS = [
  "Switch the board off and on: the card is checked, and can mostly be written again.",
  "If this letter comes again, the card is failing: put in a new one, with the newest copy of the store.",
  "Until then look at the fridge yourself, morning and evening.",
];

/** The letter that says that nothing can be written to the store. Pure; never throws. */
export function composeUnwritable(
  trouble: Readonly<{ atMs: number; sinceMs: number; reason: string; isReadOnly: boolean }>,
  context: LetterContext,
): NewLetter {
  const { atMs, sinceMs, reason, isReadOnly } = trouble;
  const place = oneLine(context.site.name, 80);
  const since = momentWords(sinceMs, context.site.timezone);
  const body: LetterBody = {
    direction: null,
    aside: `${place}: the board`,
    deed: isReadOnly
      ? "Switch the board off and on, and look at its card."
      : "Free some room on the board's disk, or look at its card.",
    sections: [
      telling(
        "What happened",
        `Since ${since} Drowse can write nothing to its store.`,
        oneLine(reason, 300),
      ),
      telling(
        "What goes on",
        "Readings that still come are judged, and letters about the cocoons go out, from memory.",
        "No reading is confirmed to its sensor. A sensor that waits for that falls silent, so do " +
          "not rely on the watch for longer than you must.",
        isReadOnly
          ? "A start checks the card; what sensors still hold is then delivered again and judged."
          : "Once the store can be written, Drowse goes on by itself and stores what it remembers.",
      ),
    ],
    stepsAfter: 1,
    stepsHeading: "What to do",
    steps: isReadOnly ? READ_ONLY_STEPS : STEPS,
    cautions: [],
    closing: [saying("This letter comes once; drowse now says how it stands.")],
    signature: signatureOf(context),
  };
  const heading = {
    id: `board/unwritable/${sinceMs}`,
    kind: "board",
    excursionId: null,
    createdAtMs: atMs,
    subject: `${isReadOnly ? "Look at the board's card" : "Free some room"}: the store can't be written, ${place}`,
  } as const;
  return finishLetter(heading, body, { ...context, earlier: [] });
}
