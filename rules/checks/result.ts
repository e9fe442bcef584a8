import { type Correction, correctionAt, type Pair } from "../../shared/check.js";
import { fitLevel, fitLine, lineAt, lineSdAt, type StraightLine } from "./straight-line.js";
import { holdAgainst, type ToleranceVerdict } from "./tolerance.js";
import { type Budget, type Component, combine } from "./uncertainty.js";

/** One value to add everywhere, or one that changes along a straight line. */
export type FitKind = "offset" | "line";

/** What a check asks; everything in one unit, whichever it is. */
export type CheckQuestion = Readonly<{
  pairs: readonly Pair[];
  fit: FitKind;
  /** The limit to both sides. */
  tolerance: number;
  /** The correction with which the probe was read up to now. */
  before: Correction | null;
  /** What is unsure beside the scatter of the pairs. */
  components: readonly Component[];
}>;

/** How far off a probe is, and whether that is more than it may be. */
type Held = Readonly<{
  /** Value of the probe at which it is farthest off. */
  at: number;
  /** Shown less true. */
  deviation: number;
  /** Expanded uncertainty (k = 2) of that. */
  expanded: number;
  verdict: ToleranceVerdict;
}>;

/** What a check found. */
export type CheckResult = Readonly<{
  fit: FitKind;
  /** What is to be added to a value from now on, in place of what was added before. */
  correction: Correction;
  /** Scatter of one pair about the correction. */
  residualSd: number;
  /** Uncertainty of the correction where it is known least well. */
  budget: Budget;
  /** As it was read up to now, with the correction that held. */
  asFound: Held;
  /** As it is read from now on; the deviation is that of the pair farthest off. */
  asLeft: Held;
}>;

/** Pairs that a check needs at least, or their scatter says nothing; common practice, no source. */
export const PAIRS_LEAST = 3;
/** Pairs that a line needs at least, so that it has two to spare. */
export const LINE_PAIRS_LEAST = 4;

/**
 * The correction that pairs call for, its uncertainty, and two verdicts. The order of the pairs
 * does not matter.
 *
 * @throws {RangeError} on fewer than three pairs, or a line through one point
 *
 * Source: JCGM 100:2008, H.3 (the model and the line).
 */
export function weighCheck(question: CheckQuestion): CheckResult {
  const { pairs, fit, tolerance, before, components } = question;
  if (pairs.length < PAIRS_LEAST)
    throw new RangeError(`${pairs.length} pairs, expected ${PAIRS_LEAST} or more`);
  const found = pairs
    .map(({ probe, reference }) => ({ x: probe, y: reference - probe }))
    .sort((a, b) => a.x - b.x || a.y - b.y);
  const line = fit === "line" ? fitLine(found) : fitLevel(found);
  const { pivot, atPivot, slope, low, high, residualSd } = line;
  const correction = { pivot, atPivot, slope, low, high };
  const worst = worstAt(line, before);
  const foundBudget = combine([scatterAt(line, worst.at), ...components]);
  const farthest = found
    .map(({ x, y }) => ({ at: x, deviation: lineAt(line, x) - y }))
    .reduce((a, b) => (Math.abs(b.deviation) > Math.abs(a.deviation) ? b : a));
  const budget = combine([scatterAt(line, farEnd(line)), ...components]);
  const hold = (off: Readonly<{ at: number; deviation: number }>, expanded: number): Held => ({
    ...off,
    expanded,
    verdict: holdAgainst(off.deviation, expanded, tolerance),
  });
  return {
    fit,
    correction,
    residualSd,
    budget,
    asFound: hold(worst, foundBudget.expanded),
    asLeft: hold(farthest, budget.expanded),
  };
}

const farEnd = ({ pivot, low, high }: StraightLine): number =>
  pivot - low > high - pivot ? low : high;

function scatterAt(line: StraightLine, x: number): Component {
  return {
    what: "the scatter of the pairs",
    kind: "A",
    standard: lineSdAt(line, x),
    degreesOfFreedom: line.degreesOfFreedom,
    from: `standard deviation over ${line.degreesOfFreedom} degrees of freedom`,
  };
}

/** Both are straight between these values, so the farthest off is one of them. */
function worstAt(line: StraightLine, before: Correction | null): { at: number; deviation: number } {
  const bends = before === null ? [] : [before.low, before.high];
  const inside = bends.filter((x) => x > line.low && x < line.high);
  return [line.low, ...inside, line.high]
    .map((at) => ({
      at,
      deviation: (before === null ? 0 : correctionAt(before, at)) - lineAt(line, at),
    }))
    .reduce((a, b) => (Math.abs(b.deviation) > Math.abs(a.deviation) ? b : a));
}

/**
 * Whether pairs reach far enough for a line: over a span that makes a slope worth having.
 *
 * @param spanLeast in the unit of the pairs
 */
export function fitFor(pairs: readonly Pair[], spanLeast: number): FitKind {
  const values = pairs.map(({ probe }) => probe);
  const span = Math.max(...values) - Math.min(...values);
  return pairs.length >= LINE_PAIRS_LEAST && span >= spanLeast ? "line" : "offset";
}
