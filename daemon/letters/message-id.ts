import { createHash } from "node:crypto";
import { domainToASCII } from "node:url";

/** Where there is no mail address to take a domain from. RFC 2606 keeps `.invalid` for this. */
export const NO_MAIL_DOMAIN = "drowse.invalid";

/**
 * The domain of a From value such as "Drowse <drowse@example.org>", in ASCII.
 *
 * @returns NO_MAIL_DOMAIN when there is no address or its domain is not a host name
 */
export function mailDomainOf(from: string | null): string {
  const address = from?.match(/<([^<>]*)>\s*$/)?.[1] ?? from ?? "";
  const domain = domainToASCII(address.slice(address.lastIndexOf("@") + 1).trim());
  const isHost = /^[a-z0-9](?:[a-z0-9-]*[a-z0-9])?(?:\.[a-z0-9](?:[a-z0-9-]*[a-z0-9])?)*$/i;
  return address.includes("@") && isHost.test(domain) ? domain : NO_MAIL_DOMAIN;
}

/**
 * The Message-ID of a letter: the same letter always gets the same one, so that a mail sent twice
 * is known to be one mail.
 *
 * RFC 5322 section 3.6.4: "<" dot-atom-text "@" dot-atom-text ">". What the letter's id holds
 * beyond that is turned to hyphens, and a digest of the whole id keeps two such ids apart.
 */
export function messageIdOf(letterId: string, domain: string): string {
  const readable = letterId
    .replace(/[^A-Za-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 60);
  const digest = createHash("sha256").update(letterId).digest("hex").slice(0, 16);
  return `<${readable === "" ? "letter" : readable}.${digest}@${domain}>`;
}
