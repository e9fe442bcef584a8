import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import { composeLetter } from "../../../daemon/letters/compose.js";
import {
  HEARTBEAT_MS,
  type Outbox,
  type OutboxPorts,
  startOutbox,
} from "../../../daemon/mail/outbox.js";
import type { MailServer } from "../../../daemon/mail/smtp-post.js";
import { type NewLetter, openStore, type Store } from "../../../daemon/store/store.js";
import { CONTEXT, finding, NIGHT_MS, QUILLMERE } from "../letters/quillmere.js";
import type { Inbox } from "./inbox.js";
import { toldTime } from "./told-time.js";

export const ANN = "ann@example.org";
export const BO = "bo@example.org";

/** The opening letter of a door left ajar. */
export const OPENING: NewLetter = composeLetter(finding(), CONTEXT)!;

/** The closing letter of the same thread, three minutes later. */
export const CLOSING: NewLetter = composeLetter(
  finding({ change: "ended", atMs: NIGHT_MS + 180_000 }),
  { ...CONTEXT, earlier: [OPENING] },
)!;

/** An inbox as a mail server to send to. */
export function serverOf(
  inbox: Pick<Inbox, "port" | "ca">,
  other: Partial<MailServer> = {},
): MailServer {
  return {
    host: "127.0.0.1",
    port: inbox.port,
    security: "starttls",
    user: null,
    password: null,
    from: "Drowse <drowse@example.org>",
    ca: inbox.ca,
    ...other,
  };
}

/** A store in a folder of its own, a told clock, and outboxes that are closed after the test. */
export function openHouse() {
  const folder = mkdtempSync(join(tmpdir(), "drowse-outbox-"));
  const store: Store = openStore(folder, QUILLMERE);
  const time = toldTime(NIGHT_MS + 1_000);
  const said: { level: string; fields: object; message: string }[] = [];
  const level = (name: string) => (fields: object, message: string) => {
    said.push({ level: name, fields, message });
  };
  const log = { info: level("info"), warn: level("warn"), error: level("error") };
  const opened: Outbox[] = [];
  onTestFinished(async () => {
    const closings = opened.map((outbox) => outbox.close());
    time.pass(10_000);
    await Promise.all(closings);
    store.close();
    rmSync(folder, { recursive: true, force: true });
  });
  return {
    store,
    time,
    said,
    folder: join(folder, "letters"),
    /** Between two turns: only the wait for the next one is pending, and no try is under way. */
    isAtRest: (): boolean => {
      const [soonestMs, ...others] = time.waiting();
      return soonestMs !== undefined && soonestMs <= HEARTBEAT_MS && others.length === 0;
    },
    /** Start an outbox on this store; give ports to put others in place of these. */
    start(mail: MailServer | null, other: Partial<OutboxPorts> = {}): Outbox {
      const outbox = startOutbox({
        store,
        mail,
        folder: join(folder, "letters"),
        clock: time.clock,
        log,
        after: time.after,
        ...other,
      });
      opened.push(outbox);
      return outbox;
    },
  };
}
