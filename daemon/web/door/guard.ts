import type { FastifyReply, FastifyRequest } from "fastify";
import { ENTER, isCalendarAddress, NOW } from "../address.js";
import { setWayIn } from "../look/shell.js";
import { STATIC_FILES } from "../look/static-files.js";
import { isOwnHost, ownNames } from "./host-names.js";
import { keepPassphrase, type Passphrase } from "./passphrase.js";
import { isFromOwnPage, isTakenAsPart } from "./same-origin.js";
import { openSessions, type Sessions } from "./sessions.js";
import { openTries, type Tries } from "./tries.js";

/** What the way in is kept by, where there is a passphrase. */
export type Entry = Readonly<{ passphrase: Passphrase; sessions: Sessions; tries: Tries }>;

/** Who may ask for what. */
export type Guard = Readonly<{
  /** Answers what may not be asked; leaves all else alone. Runs before anything is read. */
  check(request: FastifyRequest, reply: FastifyReply): Promise<unknown>;
  entry: Entry | null;
}>;

type Door = Readonly<{ host: string; names: readonly string[]; passphrase: string | null }>;

const OPEN = new Set([ENTER, "/robots.txt", ...STATIC_FILES.map(({ address }) => address)]);

const METHODS: readonly string[] = ["GET", "HEAD", "POST"];

/**
 * Whether a session is not asked for: for the way in, for what pages are set with, and for
 * calendars, which have a secret in their address instead.
 */
const isOpen = (isPost: boolean, path: string): boolean =>
  isPost ? path === ENTER : OPEN.has(path) || isCalendarAddress(path);

/** @param steadyMs a clock that never jumps, ms */
export function openGuard({ host, names, passphrase }: Door, steadyMs: () => number): Guard {
  const own = ownNames(host, names);
  const entry: Entry | null =
    passphrase === null
      ? null
      : {
          passphrase: keepPassphrase(passphrase),
          sessions: openSessions(steadyMs),
          tries: openTries(steadyMs),
        };
  const check = async (request: FastifyRequest, reply: FastifyReply): Promise<unknown> => {
    const { headers, method, url } = request;
    // RFC 9112, section 3.2: only a proxy is asked for a whole address, and the name in it would
    // count instead of Host.
    if (!url.startsWith("/")) return refuse(reply, 400, "Ask for a path of these pages.");
    // RFC 9110, section 15.5.20: asked of the wrong server.
    if (!isOwnHost(headers.host, own))
      return refuse(reply, 421, "This is not the name of these pages; see names in [page].");
    if (isTakenAsPart(headers)) return refuse(reply, 403, "Pages are not parts of other pages.");
    if (!METHODS.includes(method))
      return refuse(reply.header("allow", METHODS.join(", ")), 405, "Pages know no such method.");
    const isPost = method === "POST";
    if (isPost && !isFromOwnPage(headers, own))
      return refuse(
        reply,
        403,
        "This did not come from a page of ours. Open the page and try again.",
      );
    if (entry === null || isOpen(isPost, pathOf(url)) || entry.sessions.holds(headers.cookie))
      return;
    const next = isPost ? NOW : url;
    return reply.code(403).type("text/html; charset=utf-8").send(setWayIn(next));
  };
  return { check, entry };
}

const pathOf = (url: string): string => url.split("?")[0]!;

function refuse(reply: FastifyReply, status: number, words: string): FastifyReply {
  return reply.code(status).type("text/plain; charset=utf-8").send(`${words}\n`);
}
