import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { SECOND_MS } from "../../../shared/time.js";
import { durationWords } from "../../letters/time-words.js";
import type { Log } from "../../mqtt/arrival-desk.js";
import { ENTER, LEAVE, ownAddress } from "../address.js";
import { type FormFaults, setForm } from "../form.js";
import { setLocked } from "../look/shell.js";
import type { Entry } from "./guard.js";
import { NO_SESSION, sessionCookie } from "./sessions.js";

/** The page that asks for the passphrase, and the way out. */
export function openEntrance(app: FastifyInstance, entry: Entry, log: Log): void {
  app.get(ENTER, (request, reply) => {
    const next = ownAddress((request.query as Record<string, unknown>).next);
    if (entry.sessions.holds(request.headers.cookie)) return reply.redirect(next, 303);
    return show(reply, next, {}, 200);
  });
  app.post(ENTER, async (request, reply) => {
    const { passphrase, next } = (request.body ?? {}) as Record<string, unknown>;
    const where = ownAddress(next);
    const waitMs = entry.tries.take(request.ip);
    if (waitMs > 0) {
      reply.header("retry-after", Math.ceil(waitMs / SECOND_MS));
      const fault = `Too many tries. Wait ${durationWords(waitMs)}, then try again.`;
      return show(reply, where, { passphrase: fault }, 429);
    }
    const given = typeof passphrase === "string" ? passphrase : "";
    if (!(await entry.passphrase.isRight(given))) {
      log.warn({ from: request.ip }, "a wrong passphrase was given");
      return show(reply, where, { passphrase: "That is not it." }, 403);
    }
    entry.tries.forgive(request.ip);
    const cookie = sessionCookie(entry.sessions.begin(), isOverTls(request));
    return reply.header("set-cookie", cookie).redirect(where, 303);
  });
  app.post(LEAVE, (request, reply) => {
    entry.sessions.end(request.headers.cookie);
    return reply.header("set-cookie", NO_SESSION).redirect(ENTER, 303);
  });
}

/** Whoever lies about it keeps only their own cookie from coming back. */
function isOverTls({ headers }: FastifyRequest): boolean {
  return headers["x-forwarded-proto"] === "https" || headers.origin?.startsWith("https:") === true;
}

function show(reply: FastifyReply, next: string, faults: FormFaults, status: number): FastifyReply {
  const form = setForm({
    to: ENTER,
    hidden: { next },
    fields: [
      {
        name: "passphrase",
        label: "Passphrase",
        hint: "It stands in the file that passphrase_file names.",
        kind: "password",
        required: true,
        more: { autocomplete: "current-password" },
      },
    ],
    deed: "Go in",
    faults,
  });
  return reply.code(status).type("text/html; charset=utf-8").send(setLocked(form));
}
