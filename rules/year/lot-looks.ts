import type { Entry } from "../../shared/journal.js";
import type { Stay } from "./lot-stays.js";

/** What a keeper who looked for mould saw of it. */
export type MouldLooks = Readonly<{
  /** The last look, Unix ms, and whether there was any. */
  lookedMs: number;
  seen: boolean;
  /** The last time that there was some; null where there never was. */
  seenMs: number | null;
}>;

/**
 * What was seen of mould on a lot: in inspections of its chamber while it was there, and of the lot
 * itself; not in those of another lot. Null where nobody has looked.
 *
 * @param entries those that hold, in the order in which things were done
 */
export function mouldLooks(
  lotId: string,
  stays: readonly Stay[],
  entries: readonly Entry[],
): MouldLooks | null {
  const wasIn = (chamberId: string | null, atMs: number): boolean =>
    stays.some((stay) => {
      const { fromMs, toMs } = stay;
      return stay.chamberId === chamberId && atMs >= fromMs && (toMs === null || atMs < toMs);
    });
  const looks = entries.flatMap(({ act, atMs, chamberId, lotId: of }) => {
    if (act.kind !== "inspected") return [];
    const isOfLot = of === null ? wasIn(chamberId, atMs) : of === lotId;
    return isOfLot ? [{ atMs, seen: act.seen.includes("mould") }] : [];
  });
  const last = looks.at(-1);
  if (last === undefined) return null;
  const seenMs = looks.findLast(({ seen }) => seen)?.atMs ?? null;
  return { lookedMs: last.atMs, seen: last.seen, seenMs };
}
