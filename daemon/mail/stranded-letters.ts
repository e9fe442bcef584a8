import type { Clock } from "../clock.js";
import type { DueLetter, NewLetter, Store } from "../store/store.js";
import type { MailLog } from "./mail-trouble.js";
import type { Carrier } from "./outbox-turn.js";
import { TRY_LIMIT_MS } from "./smtp-post.js";

export type StrandedPorts = Readonly<{
  store: Pick<Store, "letters">;
  carrier: Carrier;
  keepers: readonly string[];
  clock: Clock;
  log: MailLog;
}>;

export type StrandedLetters = Readonly<{
  /**
   * Try to send letters that cannot become rows now, each to each keeper once it has gone; at
   * most one round is under way. `own` are those that no batch will queue.
   */
  send(letters: readonly NewLetter[], own?: readonly NewLetter[]): void;
  /** The store holds the letters now: mark what has gone, before the outbox looks. */
  stored(): void;
  /** Resolves when no round is under way. */
  close(): Promise<void>;
}>;

/**
 * The way out for letters while the store can't be written: a full disk must not keep a keeper
 * from hearing of an open door. What has gone is remembered here and marked once rows can be
 * written; a crash before that sends it again under the same Message-ID, as the outbox would.
 */
export function openStrandedLetters(ports: StrandedPorts): StrandedLetters {
  const { store, carrier, keepers, clock, log } = ports;
  const gone = new Map<string, Readonly<{ letterId: string; keeper: string; atMs: number }>>();
  const unqueued = new Map<string, NewLetter>();
  let round: Promise<void> | null = null;

  const mark = ({ letter, delivery }: DueLetter) => {
    const { keeper } = delivery;
    gone.set(markOf(letter.id, keeper), { letterId: letter.id, keeper, atMs: clock.nowMs() });
  };

  const carryAll = async (letters: readonly NewLetter[]): Promise<void> => {
    const due = letters.flatMap((letter) =>
      keepers
        .filter((keeper) => !gone.has(markOf(letter.id, keeper)))
        .map((keeper) => ({ letter, delivery: firstDelivery(letter, keeper) })),
    );
    for (const parcel of carrier.pack(due)) {
      try {
        await carrier.carry(parcel, AbortSignal.timeout(TRY_LIMIT_MS));
        parcel.due.forEach(mark);
        log.warn({ letter: parcel.due[0]?.letter.id }, "sent a letter that can't be stored yet");
      } catch (error) {
        const { kind, message } = carrier.explain(error);
        log.error({ message }, "a letter that can't be stored could not be sent either");
        if (kind === "server") return;
      }
    }
  };

  return {
    send(letters, own = []) {
      for (const letter of own) unqueued.set(letter.id, letter);
      round ??= carryAll([...letters, ...unqueued.values()]).finally(() => {
        round = null;
      });
    },
    stored() {
      for (const letter of unqueued.values()) store.letters.queue(letter, keepers);
      for (const { letterId, keeper, atMs } of gone.values())
        store.letters.sent(letterId, keeper, atMs);
      unqueued.clear();
      gone.clear();
    },
    close: async () => {
      await round;
    },
  };
}

const markOf = (letterId: string, keeper: string): string => `${letterId} ${keeper}`;

function firstDelivery(letter: NewLetter, keeper: string): DueLetter["delivery"] {
  return {
    letterId: letter.id,
    keeper,
    attempts: 0,
    nextTryAtMs: letter.createdAtMs,
    sentAtMs: null,
    givenUpAtMs: null,
    lastError: null,
  };
}
