import type { Span } from "../../shared/site.js";
import { type Proportion, proportionOf } from "./proportion.js";

/** What the sizes of a lot's cocoons let expect of its bees. */
export type SexRatio = Readonly<{
  /** Share of females. */
  females: Proportion;
  /** Males to one female; null where no cocoon is large. */
  malesPerFemale: number | null;
  /** The same for the ends of the share's interval; `high` is Infinity where it reaches 0. */
  malesPerFemaleSpan: Span;
}>;

/**
 * The sex ratio to expect of cocoons sorted by size: large ones are mostly females, small ones
 * mostly males (common practice, no source). The interval is that of chance alone; what was
 * sorted wrongly comes on top and is not known.
 *
 * @param large whole cocoons, 0 or more
 * @param small likewise
 * @returns null where none was counted
 */
export function expectSexRatio(large: number, small: number): SexRatio | null {
  if (large + small === 0) return null;
  const females = proportionOf(large, large + small);
  const perFemale = (share: number): number =>
    share === 0 ? Number.POSITIVE_INFINITY : (1 - share) / share;
  return {
    females,
    malesPerFemale: large === 0 ? null : small / large,
    malesPerFemaleSpan: { low: perFemale(females.span.high), high: perFemale(females.span.low) },
  };
}
