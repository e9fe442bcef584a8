import type { Entry } from "../../shared/journal.js";

/** A lot's time in one chamber, Unix ms; `toMs` is null while it is there. */
export type Stay = Readonly<{ chamberId: string; fromMs: number; toMs: number | null }>;

/** Where a lot was when, and what became of its cocoons. */
export type LotCourse = Readonly<{
  /** Oldest first; they do not overlap. */
  stays: readonly Stay[];
  /** When nothing was left of it; null while something is. */
  overAtMs: number | null;
  /** Cocoons opened, found spoilt, and put out to fly. */
  opened: number;
  lost: number;
  releasedSmall: number;
  releasedLarge: number;
}>;

/**
 * Follow a lot through the entries that hold.
 *
 * @param holding as `entriesThatHold` gives them; those of other lots are passed over
 * @param counts the cocoons that it began with
 */
export function followLot(
  lotId: string,
  holding: readonly Entry[],
  counts: Readonly<{ large: number; small: number }>,
): LotCourse {
  const stays: Stay[] = [];
  let overAtMs: number | null = null;
  let [opened, lost, releasedSmall, releasedLarge] = [0, 0, 0, 0];
  const leave = (atMs: number): void => {
    const last = stays.at(-1);
    if (last?.toMs === null) stays[stays.length - 1] = { ...last, toMs: atMs };
  };
  for (const { atMs, act, lotId: id } of holding) {
    if (id !== lotId) continue;
    if (act.kind === "moved") {
      leave(atMs);
      if (act.toChamberId !== null)
        stays.push({ chamberId: act.toChamberId, fromMs: atMs, toMs: null });
    }
    if (act.kind === "opened") opened += act.cocoons;
    if (act.kind === "lost") lost += act.cocoons;
    if (act.kind === "released") {
      releasedSmall += act.small;
      releasedLarge += act.large;
    }
    const gone = opened + lost + releasedSmall + releasedLarge;
    if (act.kind === "ended" || (gone > 0 && gone >= counts.large + counts.small)) {
      leave(atMs);
      overAtMs ??= atMs;
    }
  }
  return { stays, overAtMs, opened, lost, releasedSmall, releasedLarge };
}

/** The chamber in which a lot is, or was, at an instant; null for none. */
export function chamberAt({ stays }: Pick<LotCourse, "stays">, atMs: number): string | null {
  const stay = stays.find(({ fromMs, toMs }) => fromMs <= atMs && (toMs === null || atMs < toMs));
  return stay?.chamberId ?? null;
}
