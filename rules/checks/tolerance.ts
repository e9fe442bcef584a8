/**
 * Whether something is as it should be: `undecided` where the doubt reaches over the limit, so
 * that nobody could say.
 */
export type ToleranceVerdict = "within" | "outside" | "undecided";

/**
 * Hold a deviation against a tolerance, all in one unit.
 *
 * Within only if the deviation with all its uncertainty lies inside; outside only if it lies
 * beyond with all of it.
 *
 * @param deviation either sign
 * @param expanded expanded uncertainty of the deviation, 0 or more
 * @param tolerance the limit to both sides, above 0
 *
 * Source: guarded acceptance and guarded rejection with a guard band of U, JCGM 106:2012, 8.3.2
 * and 8.3.3 (clauses from memory).
 */
export function holdAgainst(
  deviation: number,
  expanded: number,
  tolerance: number,
): ToleranceVerdict {
  const size = Math.abs(deviation);
  if (size + expanded <= tolerance) return "within";
  return size - expanded > tolerance ? "outside" : "undecided";
}
