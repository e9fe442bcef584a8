import type { ErrorCode } from "../../shared/errors.js";
import { oneLine } from "../letters/one-line.js";

/**
 * How a try failed.
 * - `server`: no letter can pass there now: no network, no greeting, no TLS, no login, sender
 *   refused.
 * - `later`: this letter was put off (4yz).
 * - `refused`: this letter was refused for this keeper (5yz).
 */
export type MailFailure = Readonly<{ kind: "server" | "later" | "refused"; message: string }>;

const CODES: Readonly<Record<MailFailure["kind"], ErrorCode>> = {
  server: "MAIL_UNREACHABLE",
  later: "MAIL_PUT_OFF",
  refused: "MAIL_REFUSED",
};

/** The fields that nodemailer puts on its errors. */
type Reported = Readonly<{ code?: unknown; command?: unknown; responseCode?: unknown }>;

/** Stages at which an answer is about one recipient or one message. RFC 5321 section 3.3. */
const LETTER_COMMANDS: ReadonlySet<unknown> = new Set(["RCPT TO", "DATA"]);

function kindOf({ code, command, responseCode }: Reported): MailFailure["kind"] {
  const answer = typeof responseCode === "number" ? responseCode : null;
  // 421 is the server taking its leave, wherever it is said (RFC 5321 section 3.8).
  if (answer === 421) return "server";
  if (LETTER_COMMANDS.has(command) && answer !== null) return answer >= 500 ? "refused" : "later";
  // An address that nodemailer itself cannot use has no answer from a server.
  if (code === "EENVELOPE" && answer === null) return "refused";
  return "server";
}

/** Every way in which a login may carry the password over the wire. */
function secretForms(user: string | null, password: string | null): string[] {
  if (password === null || password === "") return [];
  const base64 = (text: string): string => Buffer.from(text, "utf8").toString("base64");
  return [password, base64(password), base64(`\0${user ?? ""}\0${password}`)];
}

/**
 * Say what went wrong with a try, in one line without the password, for log, store and letters.
 *
 * @param where "host:port" of the server
 */
export function readMailFailure(
  error: unknown,
  where: string,
  login: Readonly<{ user: string | null; password: string | null }>,
): MailFailure {
  const reported = (typeof error === "object" && error !== null ? error : {}) as Reported;
  const kind = kindOf(reported);
  const said = error instanceof Error ? error.message : String(error);
  const clean = secretForms(login.user, login.password).reduce(
    (text, secret) => text.replaceAll(secret, "(password)"),
    said,
  );
  return { kind, message: oneLine(`${CODES[kind]}: ${where}: ${clean}`, 300) };
}
