import type { Span } from "../shared/site.js";
import { HOUR_MS } from "../shared/time.js";
import type { ChamberState } from "./chamber.js";
import { meanKineticC } from "./exposure.js";
import type { JudgeState } from "./judge.js";

/** What one chamber's cocoons went through over a span of time. What is not known is null. */
export type ChamberFigures = Readonly<{
  chamberId: string;
  /** When the span began, Unix ms; null before the first reading. */
  fromMs: number | null;
  /** Hours that were seen; the rest lies in the dark. */
  seenHours: number;
  /** Share of the time seen that cocoons were in their band, 0 to 1. */
  inBandShare: number | null;
  cocoonSpanC: Span | null;
  meanKineticC: number | null;
  degreeHoursAbove: number;
  degreeHoursBelow: number;
  /** Equivalent days at 4 °C, Q10 2.5, and the span for Q10 2 and 3. */
  reserveDays: number | null;
  reserveDaysSpan: Span | null;
  mouldIndex: number | null;
}>;

/** What each chamber's cocoons went through since the judgement began. */
export function seasonOf(state: JudgeState): readonly ChamberFigures[] {
  return state.chambers.map(figuresOf);
}

function figuresOf({ chamberId, exposure }: ChamberState): ChamberFigures {
  if (exposure === null || exposure.seenMs === 0) return nothingSeen(chamberId);
  const { seenMs, inBandMs, coldestC, warmestC, reserveDays } = exposure;
  const { reserveDaysQ2, reserveDaysQ3 } = exposure;
  return {
    chamberId,
    fromMs: exposure.fromMs,
    seenHours: seenMs / HOUR_MS,
    inBandShare: inBandMs / seenMs,
    cocoonSpanC: { low: coldestC, high: warmestC },
    meanKineticC: meanKineticC(exposure),
    degreeHoursAbove: exposure.degreeHoursAbove,
    degreeHoursBelow: exposure.degreeHoursBelow,
    reserveDays,
    // Below 4 °C a steeper rate burns less, above it more.
    reserveDaysSpan: {
      low: Math.min(reserveDaysQ2, reserveDaysQ3),
      high: Math.max(reserveDaysQ2, reserveDaysQ3),
    },
    mouldIndex: null,
  };
}

function nothingSeen(chamberId: string): ChamberFigures {
  return {
    chamberId,
    fromMs: null,
    seenHours: 0,
    inBandShare: null,
    cocoonSpanC: null,
    meanKineticC: null,
    degreeHoursAbove: 0,
    degreeHoursBelow: 0,
    reserveDays: null,
    reserveDaysSpan: null,
    mouldIndex: null,
  };
}
