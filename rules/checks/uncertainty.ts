/** One reason why a result is not known exactly, in the unit of the result. */
export type Component = Readonly<{
  /** What it is, in a few words: "the reference's certificate". */
  what: string;
  /** A: from repeated readings. B: from anything else (JCGM 100:2008, 2.3.2 and 2.3.3). */
  kind: "A" | "B";
  /** Standard uncertainty. */
  standard: number;
  /** null where it is taken as known, as kind B is here. */
  degreesOfFreedom: number | null;
  /** Where the figure comes from, one clause. */
  from: string;
}>;

/** All components taken together. */
export type Budget = Readonly<{
  components: readonly Component[];
  /** Combined standard uncertainty. */
  combined: number;
  /** Twice that (k = 2). */
  expanded: number;
  /** Effective degrees of freedom; null where no component has any. */
  degreesOfFreedom: number | null;
}>;

/** Coverage factor. About 95 % for ten and more degrees of freedom (JCGM 100:2008, 6.3.3). */
const COVERAGE = 2;

/**
 * Combine components that do not depend on each other, each with a sensitivity of one.
 *
 * Source: JCGM 100:2008, 5.1.2 (sum of squares), 6.2.1 (U = k·u) and G.4.1 (the formula of Welch
 * and Satterthwaite).
 */
export function combine(components: readonly Component[]): Budget {
  const combined = Math.hypot(...components.map(({ standard }) => standard));
  let sum = 0;
  for (const { standard, degreesOfFreedom } of components)
    if (degreesOfFreedom !== null) sum += standard ** 4 / degreesOfFreedom;
  return {
    components,
    combined,
    expanded: COVERAGE * combined,
    degreesOfFreedom: sum === 0 ? null : combined ** 4 / sum,
  };
}

/**
 * Standard uncertainty of what lies anywhere within ± `halfWidth`, all of it as likely.
 *
 * Source: JCGM 100:2008, 4.3.7.
 */
export const ofHalfWidth = (halfWidth: number): number => halfWidth / Math.sqrt(3);

/** Standard uncertainty of a display with this step. Source: JCGM 100:2008, F.2.2.1. */
export const ofStep = (step: number): number => step / Math.sqrt(12);

/** Standard uncertainty behind an expanded one with k = 2, as a certificate gives it. */
export const ofExpanded = (expanded: number): number => expanded / COVERAGE;
