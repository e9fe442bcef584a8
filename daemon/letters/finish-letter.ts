import type { NewLetter } from "../store/records.js";
import { type LetterBody, type Section, telling } from "./body.js";
import { domainOf, type LetterContext } from "./letter-context.js";
import { messageIdOf } from "./message-id.js";
import { oneLine } from "./one-line.js";
import { picturesOf, setHtml } from "./set-html.js";
import { setText } from "./set-text.js";

/** What a letter is, beside what it says. */
export type Heading = Readonly<{
  id: string;
  kind: NewLetter["kind"];
  excursionId: string | null;
  createdAtMs: number;
  subject: string;
}>;

/** Give a body its two settings and its ids; it answers the first letter of its thread. */
export function finishLetter(
  heading: Heading,
  body: LetterBody,
  context: LetterContext,
): NewLetter {
  const sections: Section[] = [...body.sections];
  if (context.trouble !== null)
    sections.push(telling("Mail that did not arrive", oneLine(context.trouble, 600)));
  const whole = { ...body, sections };
  return {
    ...heading,
    subject: oneLine(heading.subject, 150),
    text: setText(whole),
    html: setHtml(whole),
    pictures: picturesOf(whole),
    messageId: messageIdOf(heading.id, domainOf(context)),
    inReplyTo: context.earlier[0]?.messageId ?? null,
  };
}
