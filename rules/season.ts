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
  /** Days so cold that they count as wintering; null where the species' profile sets no limit. */
  chillDays: number | null;
  /** What the wintering matrix says beside the reserve; null until enough was seen. */
  wintering: Wintering | null;
  /** Where the humidity at the cocoons is known from; null where nothing measures it. */
  humidityFrom: "box" | "air" | null;
  /** Humidity at the cocoons, %RH: now, over the last hours, and its lowest and highest so far. */
  cocoonHumidityPct: number | null;
  cocoonHumiditySpanPct: Span | null;
  /** Share of the time known that it was in its band, 0 to 1. */
  humidityInBandShare: number | null;
  /** Hours that the cocoons were wet with water that had settled on them. */
  wetHours: number | null;
  /** 0 to 6, of the worst box. */
  mouldIndex: number | null;
  /** What the keeper last saw of mould; it stands beside the index and does not change it. */
  mouldLooked: Readonly<{ atMs: number; seen: boolean }> | null;
  /** When the box is likely to fall below its humidity band; null where that cannot be told. */
  dryOn: Readonly<{ atMs: number; soonestMs: number; latestMs: number | null }> | null;
  lastDampedMs: number | null;
  /** Lag of the cocoons behind the air, and of the air behind the room with cooling lost, min. */
  cocoonLag: Constant | null;
  warming: Constant | null;
  /** Time that was not seen since the span began; null before the first reading. */
  dark: Readonly<{
    hours: number /** What cocoons can have reached in it. */;
    cocoonSpanC: Span | null;
  }> | null;
}>;

/** A constant of a chamber, min, and how it is known. `spanMin` is null where nobody measured it. */
type Constant = Readonly<{
  min: number;
  spanMin: Span | null;
  from: "set" | "learned" | "assumed";
}>;

/** How the time in the cold compares with what was found to suit. */
type Wintering = Readonly<{
  /** Days in the cold so far, and their mean kinetic temperature, °C. */
  days: number;
  meanC: number;
  verdict: "suits" | "nears-its-end" | "too-long" | "too-warm";
  /** Which of the two is the stricter and speaks. */
  stricter: "matrix" | "reserve";
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
    ...NOT_KNOWN,
  };
}

/** What no rule finds yet. */
const NOT_KNOWN = {
  chillDays: null,
  wintering: null,
  humidityFrom: null,
  cocoonHumidityPct: null,
  cocoonHumiditySpanPct: null,
  humidityInBandShare: null,
  wetHours: null,
  mouldIndex: null,
  mouldLooked: null,
  dryOn: null,
  lastDampedMs: null,
  cocoonLag: null,
  warming: null,
  dark: null,
} as const;

/** The figures of a chamber of which nothing is known. */
export function nothingSeen(chamberId: string): ChamberFigures {
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
    ...NOT_KNOWN,
  };
}
