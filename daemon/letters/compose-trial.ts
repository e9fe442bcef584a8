import type { NewLetter } from "../store/records.js";
import { type LetterBody, saying, telling } from "./body.js";
import { finishLetter } from "./finish-letter.js";
import { type LetterContext, signatureOf } from "./letter-context.js";
import { oneLine } from "./one-line.js";
import { momentWords } from "./time-words.js";

/** A letter on nothing, to try the way to the keeper. Pure; never throws. */
export function composeTrial(atMs: number, context: LetterContext): NewLetter {
  const place = oneLine(context.site.name, 80);
  const at = momentWords(atMs, context.site.timezone);
  const body: LetterBody = {
    direction: null,
    aside: `${place}: a trial`,
    deed: "Check that this letter came where you would see it at night.",
    sections: [
      telling(
        "What happened",
        `Somebody asked for a trial letter at ${at}. Nothing is wrong that this letter knows of.`,
      ),
    ],
    stepsAfter: 1,
    stepsHeading: "Step by step",
    steps: [
      "If it lay among unwanted mail, tell your mail reader that it is wanted.",
      "See that mail from this sender may sound at night, if you wish to be woken.",
      "Ask the other keepers whether theirs came too.",
    ],
    cautions: [],
    closing: [saying("No answer is needed.")],
    signature: signatureOf(context),
  };
  const heading = {
    id: `trial/${atMs}`,
    kind: "trial",
    excursionId: null,
    createdAtMs: atMs,
    subject: `Check that trial letters reach you: ${place}`,
  } as const;
  return finishLetter(heading, body, { ...context, earlier: [] });
}
