import type { Clock } from "../clock.js";
import type { DueLetter, Store } from "../store/store.js";
import type { MailFailure } from "./mail-failure.js";
import type { MailLog, openTrouble } from "./mail-trouble.js";
import { afterFailure, GIVE_UP_AFTER_MS, LONGEST_WAIT_MS } from "./retry-delay.js";

/** Letters taken from the store at once. */
const BATCH = 32;

/** What goes out in one piece: a letter with the deliveries it settles. */
type Parcel = Readonly<{ due: readonly DueLetter[] }>;

/** A way out of the house: by SMTP to one keeper, or into a folder for all. */
export type Carrier = Readonly<{
  pack(due: readonly DueLetter[]): Parcel[];
  /** Resolves when the letter is out of our hands. */
  carry(parcel: Parcel, signal: AbortSignal): Promise<void>;
  explain(error: unknown): MailFailure;
}>;

export type TurnPorts = Readonly<{
  store: Pick<Store, "letters" | "board">;
  carrier: Carrier;
  clock: Clock;
  log: MailLog;
  trouble: ReturnType<typeof openTrouble>;
  /** Run one try under the time limit; rejects with the failure, or with `Interrupted`. */
  limited(work: (signal: AbortSignal) => Promise<void>): Promise<void>;
}>;

/** The house is closing: what was under way stays due and is no failure. */
export class Interrupted extends Error {
  override readonly name = "Interrupted";
}

function settle(parcel: Parcel, failure: MailFailure, ports: TurnPorts): void {
  const nowMs = ports.clock.nowMs();
  for (const { letter, delivery } of parcel.due) {
    const kind = failure.kind === "refused" ? "refused" : "later";
    const ageMs = nowMs - letter.createdAtMs;
    const { keeper, lastError } = delivery;
    const failures = delivery.attempts + 1;
    const refusedBefore = lastError?.startsWith("MAIL_REFUSED") ?? false;
    const failed = { kind, failures, refusedBefore, ageMs } as const;
    const { giveUp, nextTryAtMs } = afterFailure(failed, nowMs);
    ports.store.letters.failed(letter.id, keeper, nowMs, nextTryAtMs, failure.message, giveUp);
    if (giveUp)
      ports.log.warn({ letter: letter.id, keeper, error: failure.message }, "letter given up");
  }
}

/** Those that waited behind a dead server too long are given up with it. */
function giveUpOld(parcels: readonly Parcel[], failure: MailFailure, ports: TurnPorts): void {
  const nowMs = ports.clock.nowMs();
  for (const parcel of parcels)
    if (parcel.due.some(({ letter }) => nowMs - letter.createdAtMs >= GIVE_UP_AFTER_MS))
      settle(parcel, failure, ports);
}

/** Letters that were put off only because the server was away, and need wait no longer. */
function putOffByServer(ports: TurnPorts, nowMs: number): DueLetter[] {
  return ports.store.letters
    .due(nowMs + LONGEST_WAIT_MS, BATCH)
    .filter(
      ({ delivery }) =>
        delivery.nextTryAtMs > nowMs && delivery.lastError?.startsWith("MAIL_UNREACHABLE"),
    );
}

/**
 * Try every letter that is due, once.
 *
 * A delivery is marked sent only after it is out of our hands; a crash between the two sends the
 * same Message-ID again. When the server itself fails, the rest are left due for a later turn.
 *
 * @returns whether the server can be used, as far as this turn found out
 * @throws {Interrupted} when the house closes; any error of the store as it came
 */
export async function takeTurn(ports: TurnPorts): Promise<"fine" | "server-down"> {
  const { store, carrier, clock, trouble } = ports;
  const startedMs = clock.nowMs();
  const parcels = carrier.pack(store.letters.due(startedMs, BATCH));
  for (let next = 0; next < parcels.length; next++) {
    const parcel = parcels[next]!;
    let failure: MailFailure | null = null;
    try {
      await ports.limited((signal) => carrier.carry(parcel, signal));
    } catch (error) {
      if (error instanceof Interrupted) throw error;
      failure = carrier.explain(error);
    }
    if (failure === null) {
      for (const { letter, delivery } of parcel.due)
        store.letters.sent(letter.id, delivery.keeper, clock.nowMs());
      if (trouble.end()) parcels.push(...carrier.pack(putOffByServer(ports, startedMs)));
      continue;
    }
    settle(parcel, failure, ports);
    if (failure.kind === "server") {
      trouble.begin(failure.message);
      giveUpOld(parcels.slice(next + 1), failure, ports);
      return "server-down";
    }
    // An answer about one letter shows that the server itself is well.
    if (trouble.end()) parcels.push(...carrier.pack(putOffByServer(ports, startedMs)));
  }
  return "fine";
}
