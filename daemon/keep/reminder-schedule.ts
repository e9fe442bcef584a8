import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import type { NewLetter } from "../store/store.js";

/**
 * Waits between the letters on one rush that nobody has acknowledged. Our choice: often while
 * there is most to save, then as rarely as a night's sleep can bear; for as long as it lasts.
 */
const WAITS_MS = [15 * MINUTE_MS, 30 * MINUTE_MS, HOUR_MS, 2 * HOUR_MS];

/**
 * When the next reminder of an excursion is due, Unix ms; null before its first letter.
 *
 * A letter that says something new begins the waits anew, for the keeper has that to act on.
 *
 * @param letters all letters of the excursion, oldest first
 */
export function reminderDueAtMs(
  letters: readonly Pick<NewLetter, "kind" | "createdAtMs">[],
): number | null {
  const newsAt = letters.findLastIndex(({ kind }) => kind === "opening" || kind === "raised");
  const last = letters.findLast(({ kind }) => kind !== "closing");
  if (newsAt === -1 || last === undefined) return null;
  const reminders = letters.slice(newsAt).filter(({ kind }) => kind === "reminder").length;
  return last.createdAtMs + WAITS_MS[Math.min(reminders, WAITS_MS.length - 1)]!;
}
