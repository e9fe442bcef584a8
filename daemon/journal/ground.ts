import { entriesThatHold } from "../../rules/year/journal-view.js";
import { followLot, type LotCourse } from "../../rules/year/lot-stays.js";
import type { Entry, Lot } from "../../shared/journal.js";
import type { Site } from "../../shared/site.js";

/** What an entry is checked against: the site, and all that was written before it. */
export type Ground = Readonly<{
  site: Pick<Site, "timezone" | "chambers">;
  nowMs: number;
  entries: readonly Entry[];
  /** The latest version of each lot, by its id. */
  lots: ReadonlyMap<string, Lot>;
}>;

/** The entries that hold, as if the one numbered `without` did not. */
export function holdingIn({ entries }: Ground, without: number | null): readonly Entry[] {
  return entriesThatHold(entries).filter(({ no }) => no !== without);
}

/** What became of a lot by the entries that hold. */
export function courseIn(ground: Ground, lot: Lot, without: number | null = null): LotCourse {
  return followLot(lot.id, holdingIn(ground, without), lot);
}
