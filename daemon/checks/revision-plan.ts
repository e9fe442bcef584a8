import type { Excursion, Finding } from "../../shared/excursion.js";

/** An excursion with all that was found of it, oldest first. */
export type Told = Readonly<{ id: string; findings: readonly Finding[] }>;

/** What is taken out, and what comes in its place. */
export type RevisionPlan = Readonly<{ before: readonly Told[]; after: readonly Told[] }>;

/** What a judgement anew leaves as it is: when a probe was heard does not depend on its values. */
const isRevised = ({ chamberId, cause }: Pick<Finding, "chamberId" | "cause">, id: string) =>
  chamberId === id && cause !== "probe-mute";

/**
 * Which excursions of a chamber a judgement anew changes from an instant on. Those that were over
 * before it stay as they were told, and so do those that come out the same.
 *
 * @param known those in the store that overlap the time from `fromMs` on
 * @param knownById any other in the store, null where there is none
 * @param findings all of the judgement anew, in order of time
 */
export function planRevision(
  chamberId: string,
  fromMs: number,
  known: readonly Told[],
  knownById: (id: string) => Told | null,
  findings: readonly Finding[],
): RevisionPlan {
  const before = new Map<string, Told>();
  for (const told of known)
    if (isRevised(told.findings.at(-1)!, chamberId)) before.set(told.id, told);
  const after: Told[] = [];
  for (const told of gather(findings.filter((finding) => isRevised(finding, chamberId)))) {
    const last = told.findings.at(-1)!;
    if (last.change === "ended" && last.atMs < fromMs && !before.has(told.id)) continue;
    const old = before.get(told.id) ?? knownById(told.id);
    if (old !== null && isSame(old, told)) before.delete(told.id);
    else {
      if (old !== null) before.set(told.id, old);
      after.push(told);
    }
  }
  return { before: [...before.values()], after };
}

function gather(findings: readonly Finding[]): Told[] {
  const byId = new Map<string, Finding[]>();
  for (const finding of findings) {
    const { excursionId } = finding;
    byId.set(excursionId, [...(byId.get(excursionId) ?? []), finding]);
  }
  return [...byId].map(([id, told]) => ({ id, findings: told }));
}

const isSame = (a: Told, b: Told): boolean =>
  JSON.stringify(a.findings) === JSON.stringify(b.findings);

/** Whether a keeper was, or would have been, written to. */
export function askedForLetter({ findings }: Told): boolean {
  return findings.some(({ urgency }) => urgency !== "note");
}

/** Whether it goes on. */
export function goesOn({ findings }: Told): boolean {
  return findings.at(-1)!.change !== "ended";
}

/** What the store knows of an excursion, as a plan reads it. */
export function toldOf({ id }: Pick<Excursion, "id">, findings: readonly Finding[]): Told {
  return { id, findings };
}
