import type { SendMailOptions } from "nodemailer";
import { fillPictureSlots } from "../letters/picture-slot.js";
import type { NewLetter } from "../store/store.js";

/** Who writes when no mail server is set: RFC 2606 keeps `.invalid` for addresses that are none. */
export const NOBODY = "Drowse <drowse@drowse.invalid>";

/**
 * One letter as nodemailer takes it.
 *
 * RFC 3834 section 5.2: what a program sends unasked is `Auto-Submitted: auto-generated`, so that
 * no autoresponder answers it. RFC 5322 section 3.6.4: a letter of a thread names the opening one
 * in In-Reply-To and References. Date is when the letter was composed, however late it is sent.
 * Pictures are parts of the letter that its HTML names by their Content-ID (RFC 2392), so that
 * nothing is fetched; a picture that is null leaves the letter without it.
 */
export function messageOf(
  letter: NewLetter,
  from: string,
  keepers: readonly string[],
  drawn: readonly (Buffer | null)[] = [],
): SendMailOptions {
  const thread =
    letter.inReplyTo === null
      ? {}
      : { inReplyTo: letter.inReplyTo, references: [letter.inReplyTo] };
  return {
    from,
    to: [...keepers],
    date: new Date(letter.createdAtMs),
    messageId: letter.messageId,
    ...thread,
    subject: letter.subject,
    text: letter.text,
    ...withPictures(letter, drawn),
    headers: { "Auto-Submitted": "auto-generated", "Content-Language": "en-GB" },
    xMailer: false,
    // A letter is text we wrote: it never has cause to read a file or fetch a page.
    disableFileAccess: true,
    disableUrlAccess: true,
  };
}

function withPictures(
  { html, messageId, pictures }: NewLetter,
  drawn: readonly (Buffer | null)[],
): Pick<SendMailOptions, "html" | "attachments"> {
  const parts = pictures.map(({ alt }, i) => {
    const content = drawn[i] ?? null;
    return content === null
      ? null
      : { content, alt, cid: `picture-${i}.${messageId.slice(1, -1)}` };
  });
  const attachments = parts.flatMap((part, i) =>
    part === null
      ? []
      : [
          {
            filename: `picture-${i + 1}.png`,
            content: part.content,
            cid: part.cid,
            contentType: "image/png",
            contentDisposition: "inline" as const,
          },
        ],
  );
  return {
    html: fillPictureSlots(html, parts),
    ...(attachments.length === 0 ? {} : { attachments }),
  };
}
