import type { IncomingHttpHeaders } from "node:http";
import { hostNameOf } from "./host-names.js";

type Headers = Readonly<IncomingHttpHeaders>;

/**
 * Whether a post comes from a page of our own, so that no other page can act in a keeper's name.
 *
 * Every browser sends Origin with a post (Fetch standard, section 3.2), and over TLS and on this
 * machine Sec-Fetch-Site too (Fetch Metadata, section 2.3). A post with neither is refused.
 * A proxy may put its own Host in place of the one asked for; then the origin must be one of our
 * names at the usual port.
 */
export function isFromOwnPage(headers: Headers, own: ReadonlySet<string>): boolean {
  const site = headers["sec-fetch-site"];
  if (site !== undefined && site !== "same-origin") return false;
  const { origin, host } = headers;
  if (origin === undefined) return site === "same-origin";
  if (host === undefined || !URL.canParse(origin)) return false;
  const from = new URL(origin);
  if (from.protocol !== "http:" && from.protocol !== "https:") return false;
  const asked = `${from.protocol}//${host}`;
  if (URL.canParse(asked) && new URL(asked).host === from.host) return true;
  return from.port === "" && hostNameOf(from.host) !== "localhost" && own.has(from.hostname);
}

/**
 * Whether something of another site asks for a page as a part of itself: a picture, a script, a
 * frame. Going to a page by a link is no such thing. Fetch Metadata, sections 2.1 to 2.3.
 */
export function isTakenAsPart(headers: Headers): boolean {
  const site = headers["sec-fetch-site"];
  if (site === undefined || site === "same-origin" || site === "none") return false;
  return headers["sec-fetch-mode"] !== "navigate" || headers["sec-fetch-dest"] !== "document";
}
