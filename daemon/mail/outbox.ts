import { MINUTE_MS, SECOND_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import type { Store } from "../store/store.js";
import { carrierTo } from "./carriers.js";
import { type DrawPictures, drawNothing } from "./draw-pictures.js";
import { type MailLog, openTrouble } from "./mail-trouble.js";
import { Interrupted, takeTurn } from "./outbox-turn.js";
import { retryDelayMs } from "./retry-delay.js";
import { type MailServer, TRY_LIMIT_MS } from "./smtp-post.js";

/** The loop turns at least this often, so that a watchdog can tell it lives (our choice). */
export const HEARTBEAT_MS = MINUTE_MS;
const SHORTEST_WAIT_MS = 50;
/** How long a closing house waits for a letter that is under way (our choice). */
const CLOSING_GRACE_MS = 5 * SECOND_MS;

/** Run `work` after a wait; returns how to call it off. */
export type After = (waitMs: number, work: () => void) => () => void;

const realAfter: After = (waitMs, work) => {
  const timer = setTimeout(work, waitMs);
  return () => clearTimeout(timer);
};

export type OutboxPorts = Readonly<{
  store: Pick<Store, "letters" | "board">;
  /** Without a server, letters become files in `folder`. */
  mail: MailServer | null;
  /** Where .eml files go: the letters folder itself. */
  folder: string;
  clock: Clock;
  log: MailLog;
  /** Told once when the store failed; the loop has stopped and its heartbeat with it. */
  onBroken?: (error: unknown) => void;
  after?: After;
  /** Without it letters go without pictures. */
  draw?: DrawPictures;
}>;

export type Outbox = Readonly<{
  /** There may be new letters: look at once. */
  wake(): void;
  /** Stop; a letter under way gets five seconds, then it stays due. Safe to call twice. */
  close(): Promise<void>;
  /**
   * When the loop last turned or began a try, on `clock.monotonicMs`. While the loop is well it
   * is never older than the limit of one try (3 min) or the heartbeat (1 min).
   */
  lastTurnMs(): number;
}>;

/** Start the loop that takes letters from the store and sends them, for as long as it takes. */
export function startOutbox(ports: OutboxPorts): Outbox {
  const { store, mail, clock, log, draw = drawNothing } = ports;
  const after = ports.after ?? realAfter;
  const carrier = carrierTo(mail, ports.folder, draw);
  const trouble = openTrouble(store, clock, log);
  const closing = new AbortController();
  let closed = false;
  let lastTurnMs = clock.monotonicMs();
  let failures = 0;
  let restUntilMs = -Infinity;
  let asked = true;
  let running: Promise<void> | null = null;
  let cancelTimer = (): void => {};

  async function limited(work: (signal: AbortSignal) => Promise<void>): Promise<void> {
    if (closed) throw new Interrupted();
    lastTurnMs = clock.monotonicMs();
    const limit = new AbortController();
    const cancel = after(TRY_LIMIT_MS, () => limit.abort());
    try {
      await work(AbortSignal.any([limit.signal, closing.signal]));
    } catch (error) {
      if (closing.signal.aborted) throw new Interrupted();
      if (!limit.signal.aborted) throw error;
      const limitMin = TRY_LIMIT_MS / MINUTE_MS;
      throw new Error(`no answer within ${limitMin} minutes, given up for now`, { cause: error });
    } finally {
      cancel();
    }
  }

  async function turn(): Promise<void> {
    const resting = clock.monotonicMs() < restUntilMs && !asked;
    asked = false;
    if (!resting) {
      const outcome = await takeTurn({ store, carrier, clock, log, trouble, limited });
      failures = outcome === "fine" ? 0 : failures + 1;
      restUntilMs = failures === 0 ? -Infinity : clock.monotonicMs() + retryDelayMs(failures);
    }
    lastTurnMs = clock.monotonicMs();
  }

  function waitMs(): number {
    const dueAtMs = store.letters.nextDueAtMs();
    const untilDueMs = dueAtMs === null ? HEARTBEAT_MS : dueAtMs - clock.nowMs();
    const untilRestedMs = restUntilMs - clock.monotonicMs();
    return Math.min(HEARTBEAT_MS, Math.max(SHORTEST_WAIT_MS, untilDueMs, untilRestedMs));
  }

  function run(): void {
    if (closed || running) return;
    cancelTimer();
    running = turn()
      .then(() => {
        running = null;
        if (asked) run();
        else if (!closed) cancelTimer = after(waitMs(), run);
      })
      .catch((error: unknown) => {
        running = null;
        if (error instanceof Interrupted) return;
        // Going on would send the same letters again and again without being able to mark them.
        closed = true;
        log.error({ err: error }, "the outbox has stopped: the store failed");
        ports.onBroken?.(error);
      });
  }

  run();
  return {
    wake() {
      asked = true;
      run();
    },
    async close() {
      closed = true;
      cancelTimer();
      const cancelGrace = after(CLOSING_GRACE_MS, () => closing.abort());
      await running;
      cancelGrace();
    },
    lastTurnMs: () => lastTurnMs,
  };
}
