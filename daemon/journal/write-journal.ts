import type { Site } from "../../shared/site.js";
import type { JournalBatch, JournalSoFar } from "../store/journal.js";
import type { Store } from "../store/store.js";
import { type Draft, openDraft } from "./draft.js";

const NOTHING: JournalBatch = { lots: [], entries: [] };

/** What became of a write: what is wrong with it, or the numbers of the entries it added. */
type Wrote<Wrong> = Readonly<
  { wrong: Wrong } | { numbers: readonly number[]; lots: number; isAgain: boolean }
>;

/**
 * Write into the journal, checked against what stands there at that very moment; all or nothing.
 *
 * @param fill puts things into a draft and says what is wrong; null where nothing is
 * @param onceId of what must be written once only; null writes it however often it comes
 */
export function writeJournal<Wrong>(
  { journal }: Pick<Store, "journal">,
  site: Pick<Site, "timezone" | "chambers">,
  nowMs: number,
  fill: (draft: Draft) => Wrong | null,
  onceId: string | null = null,
): Wrote<Wrong> {
  let wrong: Wrong | null = null;
  let lots = 0;
  const plan = (soFar: JournalSoFar): JournalBatch | null => {
    const draft = openDraft(site, soFar, nowMs);
    wrong = fill(draft);
    if (wrong !== null) return null;
    lots = draft.batch().lots.length;
    return draft.batch();
  };
  const written =
    onceId === null
      ? { numbers: journal.write(nowMs, (soFar) => plan(soFar) ?? NOTHING), isAgain: false }
      : journal.writeOnce(onceId, nowMs, plan);
  return wrong === null ? { ...written, lots } : { wrong };
}
