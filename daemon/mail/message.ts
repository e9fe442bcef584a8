import type { SendMailOptions } from "nodemailer";
import type { NewLetter } from "../store/store.js";

/** Who writes when no mail server is set: RFC 2606 keeps `.invalid` for addresses that are none. */
export const NOBODY = "Drowse <drowse@drowse.invalid>";

/**
 * One letter as nodemailer takes it.
 *
 * RFC 3834 section 5.2: what a program sends unasked is `Auto-Submitted: auto-generated`, so that
 * no autoresponder answers it. RFC 5322 section 3.6.4: a letter of a thread names the opening one
 * in In-Reply-To and References. Date is when the letter was composed, however late it is sent.
 */
export function messageOf(
  letter: NewLetter,
  from: string,
  keepers: readonly string[],
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
    html: letter.html,
    headers: { "Auto-Submitted": "auto-generated", "Content-Language": "en-GB" },
    xMailer: false,
    // A letter is text we wrote: it never has cause to read a file or fetch a page.
    disableFileAccess: true,
    disableUrlAccess: true,
  };
}
