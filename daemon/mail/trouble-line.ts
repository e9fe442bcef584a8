import { DAY_MS } from "../../shared/time.js";
import { oneLine } from "../letters/one-line.js";
import { momentWords } from "../letters/time-words.js";
import type { Delivery, Store } from "../store/store.js";
import { grouped } from "./grouped.js";
import { PAST_TROUBLE_KEY, parseTrouble, TROUBLE_KEY } from "./mail-trouble.js";

/** How far back the letter before this one is looked for. */
const LOOK_BACK_MS = 7 * DAY_MS;

const letters = (count: number): string => `${count} letter${count === 1 ? "" : "s"}`;

function serverLines(store: Pick<Store, "board">, sinceMs: number, timezone: string): string[] {
  const lasting = parseTrouble(store.board.read(TROUBLE_KEY));
  if (lasting !== null) {
    const since = momentWords(lasting.sinceMs, timezone);
    return [
      `When this was written, no letter could be handed over since ${since} (${lasting.message}).`,
    ];
  }
  const past = parseTrouble(store.board.read(PAST_TROUBLE_KEY));
  const ended = parseTrouble(past?.message ?? null);
  if (past === null || ended === null || ended.sinceMs <= sinceMs) return [];
  const [from, to] = [momentWords(past.sinceMs, timezone), momentWords(ended.sinceMs, timezone)];
  return [`From ${from} to ${to} no letter could be handed over, so some came late.`];
}

function keeperLines(undelivered: readonly Delivery[], sinceMs: number): string[] {
  const given = undelivered.filter(
    ({ givenUpAtMs }) => givenUpAtMs !== null && givenUpAtMs > sinceMs,
  );
  return [...grouped(given, (delivery) => delivery.keeper)].map(([keeper, lost]) => {
    const why = oneLine(lost.at(-1)?.lastError ?? "no answer", 160);
    return `${letters(lost.length)} to ${oneLine(keeper, 80)} could not be delivered (${why}).`;
  });
}

/**
 * One line on mail that did not arrive, for the letter now being composed; null if all is well.
 * What the letter before it could already say is not said again, unless it still lasts.
 */
export function troubleLine(
  store: Pick<Store, "board" | "letters">,
  nowMs: number,
  timezone: string,
): string | null {
  const earlier = store.letters.between(nowMs - LOOK_BACK_MS, nowMs);
  const sinceMs = earlier.at(-1)?.letter.createdAtMs ?? nowMs - LOOK_BACK_MS;
  const lines = [
    ...serverLines(store, sinceMs, timezone),
    ...keeperLines(store.letters.undelivered(), sinceMs),
  ];
  return lines.length === 0 ? null : lines.join(" ");
}
