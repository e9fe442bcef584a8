import { formatRfc3339, parseRfc3339 } from "../../shared/rfc3339.js";
import { DAY_MS, MINUTE_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import { durationWords } from "../letters/time-words.js";
import type { Log } from "../mqtt/arrival-desk.js";
import type { Store } from "../store/store.js";

/** The fact under which the store keeps when the clock was last set, and by how many minutes. */
const FACT = "clock-set";
/** So long a keeper may wonder at times that do not fit; our choice. */
const TOLD_FOR_MS = 7 * DAY_MS;

/** Note that the clock was set, and let letters wait no longer for it than they would. Never throws: a store that fails is told by itself. */
export function noteClockSet(
  {
    store,
    clock,
    log,
  }: Readonly<{ store: Pick<Store, "board" | "letters">; clock: Clock; log: Log }>,
  byMs: number,
): void {
  try {
    const at = formatRfc3339(clock.nowMs());
    store.board.note(FACT, `${at} ${Math.round(byMs / MINUTE_MS)}`);
    store.letters.clockWasSet(byMs);
  } catch (error) {
    log.error({ error: String(error) }, "that the clock was set could not be noted");
  }
}

/** A sentence on a clock that was set within the last week; null where it was not. */
export function clockSentence(store: Pick<Store, "board">, nowMs: number): string | null {
  const [, at, minutes] = /^(\S+) (-?\d+)$/.exec(store.board.read(FACT) ?? "") ?? [];
  const atMs = parseRfc3339(at ?? "");
  if (atMs === null || nowMs - atMs > TOLD_FOR_MS) return null;
  const byMs = Number(minutes) * MINUTE_MS;
  const [by, was] = [durationWords(Math.abs(byMs)), byMs < 0 ? "late" : "early"];
  const way = byMs < 0 ? "back" : "ahead";
  return (
    `The board's clock was set ${way} by ${by}, ${durationWords(Math.max(0, nowMs - atMs))} ago. ` +
    `What was measured before that is dated too ${was} by as much.`
  );
}
