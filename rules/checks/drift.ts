import { type Correction, correctionAt } from "../../shared/check.js";

/** What one check found, as far as another is compared with it. */
export type Checked = Readonly<{
  madeAtMs: number;
  correction: Correction;
  /** Expanded uncertainty (k = 2) of the correction. */
  expanded: number;
}>;

/** How a probe moved from one check to the next. */
export type CheckDrift = Readonly<{
  /** Value at which the two are compared. */
  at: number;
  /** How much more the probe shows than at the earlier check, in its unit. */
  moved: number;
  /** Expanded uncertainty (k = 2) of that. */
  expanded: number;
  /** Whether it moved by more than the two checks may differ anyway. */
  isSeen: boolean;
}>;

/**
 * How a probe moved between two checks, compared in the middle of what both looked at, or between
 * them where they looked at different values.
 *
 * Both uncertainties are taken as independent, though one reference may have served both: that
 * errs on the side of seeing less.
 *
 * Source: |x₁ − x₂| against √(U₁² + U₂²), as the Eₙ number of ISO/IEC 17043 (from memory).
 */
export function driftBetween(earlier: Checked, later: Checked): CheckDrift {
  const low = Math.max(earlier.correction.low, later.correction.low);
  const high = Math.min(earlier.correction.high, later.correction.high);
  const at = (low + high) / 2;
  // What must be added fell as much as what is shown rose.
  const moved = correctionAt(earlier.correction, at) - correctionAt(later.correction, at);
  const expanded = Math.hypot(earlier.expanded, later.expanded);
  return { at, moved, expanded, isSeen: Math.abs(moved) > expanded };
}
