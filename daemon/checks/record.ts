import type { Steps } from "../../rules/checks/components.js";
import type { CheckResult } from "../../rules/checks/result.js";
import type { HeldCorrection, Pair, Quantity, Reference } from "../../shared/check.js";

/** A check as it was made. It is never edited: who was wrong withdraws it, or checks again. */
export type CheckMade = Readonly<{
  kind: "check";
  /** Unique in a site for ever; says which probe, what of it and when. */
  id: string;
  madeAtMs: number;
  probeId: string;
  quantity: Quantity;
  reference: Reference;
  pairs: readonly Pair[];
  /** What the two displays resolve. */
  steps: Steps;
  /** The limit to both sides, in the unit of the quantity. */
  tolerance: number;
  result: CheckResult;
  /** Readings from this instant on are corrected by it; null where it is for the record only. */
  holdsFromMs: number | null;
  dueAtMs: number;
  /** Who made it, and what else there is to say of it. */
  by: string | null;
  note: string | null;
}>;

/** A check that should not have counted, from the beginning. */
type CheckWithdrawn = Readonly<{
  kind: "withdrawal";
  id: string;
  madeAtMs: number;
  checkId: string;
  by: string | null;
  note: string | null;
}>;

/** One line of the history of checks. */
export type CheckEntry = CheckMade | CheckWithdrawn;

/** Checks that were not withdrawn, oldest first. */
export function standingChecks(entries: readonly CheckEntry[]): CheckMade[] {
  const withdrawn = new Set(entries.map((e) => (e.kind === "withdrawal" ? e.checkId : null)));
  return entries
    .filter((entry): entry is CheckMade => entry.kind === "check" && !withdrawn.has(entry.id))
    .sort((a, b) => a.madeAtMs - b.madeAtMs);
}

/** The corrections that a history of checks makes hold. */
export function heldCorrections(entries: readonly CheckEntry[]): HeldCorrection[] {
  return standingChecks(entries).flatMap(
    ({ id, probeId, quantity, madeAtMs, holdsFromMs, result: { correction } }) =>
      holdsFromMs === null
        ? []
        : [{ checkId: id, probeId, quantity, madeAtMs, fromMs: holdsFromMs, correction }],
  );
}

/** One quantity of a probe means something else from this instant on than it did. */
export type Shift = Readonly<{ probeId: string; quantity: Quantity; fromMs: number }>;

/** What new entries shift. */
export function shiftsOf(entries: readonly CheckEntry[], fresh: readonly CheckEntry[]): Shift[] {
  return fresh.flatMap((entry) => {
    const check = findCheck(entries, entry.kind === "check" ? entry.id : entry.checkId);
    if (check === null || check.holdsFromMs === null) return [];
    const { probeId, quantity, holdsFromMs: fromMs } = check;
    return [{ probeId, quantity, fromMs }];
  });
}

/** A check by its id, withdrawn or not. */
export function findCheck(entries: readonly CheckEntry[], id: string): CheckMade | null {
  for (const entry of entries) if (entry.kind === "check" && entry.id === id) return entry;
  return null;
}
