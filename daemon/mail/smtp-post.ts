import { createTransport } from "nodemailer";
import { MINUTE_MS, SECOND_MS } from "../../shared/time.js";
import type { NewLetter } from "../store/store.js";
import { type DrawPictures, drawNothing } from "./draw-pictures.js";
import { messageOf } from "./message.js";

/** A mail server to hand letters to. */
export type MailServer = Readonly<{
  host: string;
  port: number;
  security: "starttls" | "tls" | "none";
  user: string | null;
  password: string | null;
  from: string;
  /** PEM of an authority to trust beside the system's, for a server of one's own. */
  ca?: string | null;
}>;

/**
 * A whole try may take this long. RFC 5321 section 4.5.3.2 would wait 10 minutes for the last
 * answer alone; ours is shorter (our choice), for the other keepers' letters wait behind it, and
 * a letter sent twice carries the same Message-ID.
 */
export const TRY_LIMIT_MS = 3 * MINUTE_MS;

/** Send one letter to one keeper. Resolves only once the server has taken it over (250). */
export type Post = (letter: NewLetter, keeper: string, signal: AbortSignal) => Promise<void>;

/** Open the way to a mail server: one connection and one transaction for each letter. */
export function openSmtpPost(server: MailServer, draw: DrawPictures = drawNothing): Post {
  const { host, port, security, user, password } = server;
  const login =
    user === null ? {} : { auth: { user, pass: password ?? "" }, forceAuth: true as const };
  const transport = createTransport({
    host,
    port,
    secure: security === "tls",
    requireTLS: security === "starttls",
    ignoreTLS: security === "none",
    ...login,
    ...(server.ca ? { tls: { ca: server.ca } } : {}),
    connectionTimeout: 30 * SECOND_MS,
    greetingTimeout: 30 * SECOND_MS,
    socketTimeout: MINUTE_MS,
    socketCloseTimeout: SECOND_MS,
    logger: false,
  });
  return async (letter, keeper, signal) => {
    const message = messageOf(letter, server.from, [keeper], await draw(letter));
    await transport.sendMail({ ...message, signal });
  };
}
