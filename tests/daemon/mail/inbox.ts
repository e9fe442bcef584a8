import { once } from "node:events";
import type { AddressInfo } from "node:net";
import { type ParsedMail, simpleParser } from "mailparser";
import { SMTPServer, type SMTPServerOptions } from "smtp-server";
import { makeCertificate } from "./test-certificate.js";

const CERTIFICATE = makeCertificate();

/** What the server took over: for whom, over what, and the message both raw and read. */
type Arrived = Readonly<{
  keeper: string;
  secure: boolean;
  user: string | undefined;
  raw: string;
  mail: ParsedMail;
}>;

/** A real SMTP server on loopback that keeps what it takes over. */
export type Inbox = Readonly<{
  port: number;
  /** PEM to trust. */
  ca: string;
  arrived: Arrived[];
  close(): Promise<void>;
}>;

/** An error that the server answers with, as smtp-server reads it. */
export function answer(responseCode: number, message: string): Error {
  return Object.assign(new Error(message), { responseCode });
}

/**
 * Start a server on 127.0.0.1.
 *
 * @param options as smtp-server takes them; by default it offers STARTTLS and wants no login
 * @param port 0 for any free one
 */
export async function openInbox(options: SMTPServerOptions = {}, port = 0): Promise<Inbox> {
  const arrived: Arrived[] = [];
  const server = new SMTPServer({
    ...CERTIFICATE,
    authOptional: true,
    logger: false,
    closeTimeout: 100,
    onData(stream, session, done) {
      const chunks: Buffer[] = [];
      stream.on("data", (chunk: Buffer) => chunks.push(chunk));
      stream.on("end", async () => {
        const raw = Buffer.concat(chunks).toString("utf8");
        const keeper = session.envelope.rcptTo[0]?.address ?? "";
        const mail = await simpleParser(raw);
        arrived.push({ keeper, secure: session.secure, user: session.user?.toString(), raw, mail });
        done();
      });
    },
    ...options,
  });
  // A client that breaks off is what some of these tests are about.
  server.on("error", () => {});
  server.listen(port, "127.0.0.1");
  await once(server.server, "listening");
  return {
    port: (server.server.address() as AddressInfo).port,
    ca: CERTIFICATE.cert,
    arrived,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}
