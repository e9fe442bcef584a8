import type { NewLetter } from "../store/records.js";
import { type LetterBody, saying, telling } from "./body.js";
import { finishLetter } from "./finish-letter.js";
import { type LetterContext, signatureOf } from "./letter-context.js";
import { oneLine } from "./one-line.js";
import { momentWords } from "./time-words.js";

/** The letter that says that nothing can be written to the store. Pure; never throws. */
export function composeUnwritable(
  trouble: Readonly<{ atMs: number; sinceMs: number; reason: string }>,
  context: LetterContext,
): NewLetter {
  const { atMs, sinceMs, reason } = trouble;
  const place = oneLine(context.site.name, 80);
  const since = momentWords(sinceMs, context.site.timezone);
  const body: LetterBody = {
    direction: null,
    aside: `${place}: the board`,
    deed: "Free some room on the board's disk, or look at its card.",
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
        "Once the store can be written, Drowse goes on by itself and stores what it remembers.",
      ),
    ],
    stepsAfter: 1,
    stepsHeading: "What to do",
    steps: [
      "See what fills the disk: df -h, and du -sh of the larger folders.",
      "Old copies of the store may go; set copies_folder to another disk.",
      "If the disk has room, it may have turned read-only because it fails: replace it.",
    ],
    cautions: [],
    closing: [saying("This letter comes once; drowse now says how it stands.")],
    signature: signatureOf(context),
  };
  const heading = {
    id: `board/unwritable/${sinceMs}`,
    kind: "board",
    excursionId: null,
    createdAtMs: atMs,
    subject: `Free some room: the store can't be written, ${place}`,
  } as const;
  return finishLetter(heading, body, { ...context, earlier: [] });
}
