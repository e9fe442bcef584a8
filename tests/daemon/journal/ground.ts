import { openDraft } from "../../../daemon/journal/draft.js";
import type { Faults, Typed } from "../../../daemon/journal/fields.js";
import type { Entry, LotVersion } from "../../../shared/journal.js";
import type { Chamber } from "../../../shared/site.js";

export const NOW_MS = Date.UTC(2026, 1, 1, 15);

const chamber = (id: string): Chamber => ({
  id,
  species: "osmia-bicornis",
  bandC: { low: 1.1, high: 3.3 },
  humidityBandPct: { low: 60, high: 70 },
  cocoonLagMs: null,
});

/** A journal of Quillmere on its way into a draft. */
export function openQuillmere(chambers = ["shed"], nowMs = NOW_MS) {
  const site = { timezone: "Europe/London", chambers: chambers.map(chamber) };
  const draft = openDraft(site, { entries: [], lots: [], nextNo: 1 }, nowMs);
  const good = (faults: Faults | null): void => {
    if (faults !== null) throw new Error(JSON.stringify(faults));
  };
  return {
    draft,
    /** Take in what must be right. */
    lot: (typed: Typed) => good(draft.addLot(typed)),
    entry: (typed: Typed) => good(draft.addEntry(typed)),
    /** What is wrong with an entry that must not be right. */
    faults: (typed: Typed): Faults => {
      const faults = draft.addEntry(typed);
      if (faults === null) throw new Error(`taken in: ${JSON.stringify(typed)}`);
      return faults;
    },
    last: (): Entry => draft.ground().entries.at(-1)!,
    versions: (): LotVersion[] =>
      draft.batch().lots.map((lot, i) => ({ ...lot, no: i + 1, writtenAtMs: nowMs })),
  };
}

/** A lot in the shed since the first of November. */
export const HEDGE = {
  lot: "hedge",
  large: "80",
  small: "120",
  chamber: "shed",
  in: "2025-11-01",
} as const;
