import type { Site } from "../../shared/site.js";
import type { Store } from "../store/store.js";
import { type Draft, openDraft } from "./draft.js";

/** What became of a write: what is wrong with it, or the numbers of the entries it added. */
type Wrote<Wrong> = Readonly<{ wrong: Wrong } | { numbers: readonly number[]; lots: number }>;

/**
 * Write into the journal, checked against what stands there at that very moment; all or nothing.
 *
 * @param fill puts things into a draft and says what is wrong; null where nothing is
 */
export function writeJournal<Wrong>(
  { journal }: Pick<Store, "journal">,
  site: Pick<Site, "timezone" | "chambers">,
  nowMs: number,
  fill: (draft: Draft) => Wrong | null,
): Wrote<Wrong> {
  let wrong: Wrong | null = null;
  let lots = 0;
  const numbers = journal.write(nowMs, (soFar) => {
    const draft = openDraft(site, soFar, nowMs);
    wrong = fill(draft);
    if (wrong !== null) return { lots: [], entries: [] };
    lots = draft.batch().lots.length;
    return draft.batch();
  });
  return wrong === null ? { numbers, lots } : { wrong };
}
