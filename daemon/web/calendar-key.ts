import { randomBytes, timingSafeEqual } from "node:crypto";
import type { Store } from "../store/store.js";

/** The fact under which the store keeps it. */
const FACT = "calendar-key";
/** RFC 4086 asks for 128 bits of what nobody is to guess. */
const BYTES = 16;

/** The secret in the address that calendars ask, made when it is first asked for. */
export function calendarKey({ board }: Pick<Store, "board">): string {
  return board.read(FACT) ?? renewCalendarKey({ board });
}

/** Make a new secret; the old address then leads nowhere. */
export function renewCalendarKey({ board }: Pick<Store, "board">): string {
  const key = randomBytes(BYTES).toString("hex");
  board.note(FACT, key);
  return key;
}

/** Whether a key is the one that stands. */
export function isCalendarKey({ board }: Pick<Store, "board">, given: string): boolean {
  const [own, other] = [board.read(FACT), Buffer.from(given)];
  if (own === null) return false;
  const known = Buffer.from(own);
  return known.length === other.length && timingSafeEqual(known, other);
}
