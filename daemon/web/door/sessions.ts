import { createHash, randomBytes } from "node:crypto";
import { DAY_MS } from "../../../shared/time.js";

/** Our choice: a keeper who looks once a month need not type the passphrase again. */
const IDLE_MS = 30 * DAY_MS;
/** Phones and desks of a few keepers; the one idle longest makes room. */
const MOST = 64;
const TOKEN_BYTES = 32;
const NAME = "drowse";

/** Those who gave the passphrase. They are forgotten when Drowse ends. */
export type Sessions = ReturnType<typeof openSessions>;

/** @param nowMs a clock that never jumps, ms */
export function openSessions(nowMs: () => number) {
  // Only hashes are kept, so that a look into the memory gives nobody a session.
  const usedAtMs = new Map<string, number>();
  const keyOf = (token: string) => createHash("sha256").update(token).digest("base64");

  return {
    /** Begin a session. @returns its token, 43 characters */
    begin(): string {
      const token = randomBytes(TOKEN_BYTES).toString("base64url");
      while (usedAtMs.size >= MOST) usedAtMs.delete(usedAtMs.keys().next().value!);
      usedAtMs.set(keyOf(token), nowMs());
      return token;
    },
    /** Whether the cookies of a request hold a session that goes on; it then goes on longer. */
    holds(cookies: string | undefined): boolean {
      const token = tokenIn(cookies);
      if (token === null) return false;
      const key = keyOf(token);
      const lastMs = usedAtMs.get(key);
      if (lastMs === undefined) return false;
      usedAtMs.delete(key);
      const goesOn = nowMs() - lastMs < IDLE_MS;
      // Put last again, so that the first one is always the one idle longest.
      if (goesOn) usedAtMs.set(key, nowMs());
      return goesOn;
    },
    end(cookies: string | undefined): void {
      const token = tokenIn(cookies);
      if (token !== null) usedAtMs.delete(keyOf(token));
    },
  };
}

/**
 * The cookie that carries a session (RFC 6265): out of reach of scripts, and never sent along from
 * another site. `secure` where the browser came over TLS.
 */
export function sessionCookie(token: string, secure: boolean): string {
  const seconds = IDLE_MS / 1_000;
  return `${NAME}=${token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=${seconds}${secure ? "; Secure" : ""}`;
}

/** The cookie that ends one. */
export const NO_SESSION = `${NAME}=; Path=/; HttpOnly; SameSite=Strict; Max-Age=0`;

function tokenIn(cookies: string | undefined): string | null {
  return /(?:^|;) *drowse=([\w-]{43}) *(?:;|$)/.exec(cookies ?? "")?.[1] ?? null;
}
