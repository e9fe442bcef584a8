import { DAY_MS } from "../../shared/time.js";
import { fitLine } from "../checks/straight-line.js";
import { ofStep } from "../checks/uncertainty.js";

/** A labelled sample on the scale. `scaleG` is the smallest step that the scale shows. */
export type Weighing = Readonly<{ atMs: number; massG: number; scaleG: number }>;

/** How fast a sample loses mass. */
export type MassLoss = Readonly<{
  weighings: number;
  /** From the first weighing to the last. */
  days: number;
  /** Of its first mass, per cent in 30 days; below 0 it gained. */
  pctIn30Days: number;
  /** Half of the 95 % interval about it, per cent in 30 days. */
  expandedPct: number;
  /** Whether the loss is more than weighing alone could make it seem. */
  isSeen: boolean;
}>;

const PER_DAYS = 30;
/**
 * Half-widths of a 95 % interval in standard deviations, by degrees of freedom from 1 on.
 * JCGM 100:2008, table G.2.
 */
const STUDENT_95 = [
  12.71, 4.3, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23, 2.2, 2.18, 2.16, 2.14, 2.13, 2.12,
  2.11, 2.1, 2.09, 2.09,
];
/** The same without end of degrees of freedom; the last row of the same table. */
const NORMAL_95 = 1.96;

/**
 * The loss of mass of one sample in 30 days, by a straight line through its weighings. Its
 * uncertainty is the larger of what the scatter about the line shows and what the scale's step
 * makes of it; two weighings show no scatter. Most of what is lost is water, and what loss is
 * harmful is not published.
 *
 * @param weighings of one sample, never more or fewer cocoons; in any order
 * @returns null for fewer than two, or where all are of one instant
 *
 * Source: least squares; resolution as JCGM 100:2008, F.2.2.1.
 */
export function massLoss(weighings: readonly Weighing[]): MassLoss | null {
  const inOrder = weighings.toSorted((a, b) => a.atMs - b.atMs);
  const [first, last] = [inOrder[0], inOrder.at(-1)];
  if (first === undefined || last === undefined || first.atMs === last.atMs) return null;
  const found = inOrder.map(({ atMs, massG }) => ({ x: (atMs - first.atMs) / DAY_MS, y: massG }));
  const meanDay = found.reduce((sum, { x }) => sum + x, 0) / found.length;
  const spread = Math.sqrt(found.reduce((sum, { x }) => sum + (x - meanDay) ** 2, 0));
  const stepG = Math.max(...inOrder.map(({ scaleG }) => scaleG));
  const byScale = (NORMAL_95 * ofStep(stepG)) / spread;
  const days = (last.atMs - first.atMs) / DAY_MS;
  const line = found.length > 2 ? fitLine(found) : null;
  const slope = line?.slope ?? (last.massG - first.massG) / days;
  const byScatter = line === null ? 0 : student95(line.degreesOfFreedom) * line.slopeSd;
  const toPct = (PER_DAYS * 100) / first.massG;
  const expandedPct = Math.max(byScale, byScatter) * toPct;
  const pctIn30Days = -slope * toPct;
  return {
    weighings: found.length,
    days,
    pctIn30Days,
    expandedPct,
    isSeen: Math.abs(pctIn30Days) > expandedPct,
  };
}

function student95(degreesOfFreedom: number): number {
  return STUDENT_95[degreesOfFreedom - 1] ?? STUDENT_95.at(-1)!;
}
