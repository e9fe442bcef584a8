import type { Clock } from "../clock.js";
import type { Store } from "../store/store.js";

/** Board facts: the trouble that lasts ("" when there is none), and the last that ended. */
export const TROUBLE_KEY = "mail-trouble";
export const PAST_TROUBLE_KEY = "mail-trouble-past";

/** The part of a pino logger that the outbox speaks to. */
export type MailLog = Readonly<{
  info(fields: object, message: string): void;
  warn(fields: object, message: string): void;
  error(fields: object, message: string): void;
}>;

/** A stretch in which no letter could be handed over. */
export type Trouble = Readonly<{ sinceMs: number; message: string }>;

/** Read what `noteTrouble` wrote: an RFC 3339 time, a space, what stood in the way. */
export function parseTrouble(fact: string | null): Trouble | null {
  const [, since, message] = fact?.match(/^(\S+) ([\s\S]+)$/) ?? [];
  const sinceMs = Date.parse(since ?? "");
  return Number.isNaN(sinceMs) || message === undefined ? null : { sinceMs, message };
}

/** Watch over whether letters pass at all; each change is said once in log and store. */
export function openTrouble(store: Pick<Store, "board">, clock: Clock, log: MailLog) {
  let current = parseTrouble(store.board.read(TROUBLE_KEY));
  const iso = (atMs: number): string => new Date(atMs).toISOString();

  return {
    isDown: (): boolean => current !== null,

    /** Note that nothing passes now; only the first time in a row is logged. */
    begin(message: string): void {
      if (current === null)
        log.error({ message }, "letters cannot be handed over; will keep trying");
      current = { sinceMs: current?.sinceMs ?? clock.nowMs(), message };
      store.board.note(TROUBLE_KEY, `${iso(current.sinceMs)} ${message}`);
    },

    /** Note that a letter has passed. @returns whether trouble ended with it */
    end(): boolean {
      if (current === null) return false;
      const nowMs = clock.nowMs();
      log.info({ since: iso(current.sinceMs) }, "letters can be handed over again");
      const past = `${iso(current.sinceMs)} ${iso(nowMs)} ${current.message}`;
      store.board.note(PAST_TROUBLE_KEY, past);
      store.board.note(TROUBLE_KEY, "");
      current = null;
      return true;
    },
  };
}
