import type { Beside, Cause, Cost, Finding, Forecast, Urgency } from "../shared/excursion.js";
import type { Exposure } from "./exposure.js";

/** An excursion under way on one side of the band. */
export type Lane = Readonly<{
  excursionId: string;
  cause: Cause;
  urgency: Urgency;
  probeId: string | null;
  startedAtMs: number;
  /** When what caused it was over, while the cocoons still come back; null before that. */
  overAtMs: number | null;
  coldestC: number;
  warmestC: number;
  /** The sums when it started; the difference is its cost. */
  from: Sums;
}>;

type Sums = Pick<Exposure, "degreeHoursAbove" | "degreeHoursBelow" | "reserveDays"> &
  Readonly<{ wetHours: number; mouldIndex: number }>;

/** The water at the cocoons at present, as the worst of the places that tell of it. */
export type WaterNow = Readonly<{
  /** Over the last hours, %RH. */
  humidityPct: number;
  from: "box" | "air";
  wetHours: number;
  mouldIndex: number;
}>;

/** The present of a chamber, as every finding about it carries it. */
export type Present = Readonly<{
  atMs: number;
  chamberId: string;
  cocoonC: number | null;
  airC: number | null;
  humidityPct: number | null;
  exposure: Exposure | null;
  water: WaterNow | null;
  /** Days of chill so far; null before any was counted. */
  chillDays: number | null;
}>;

/** What a finding says beyond the lane and the present. */
export type Saying = Readonly<{
  comparedWith: string;
  forecast: Forecast | null;
  beside?: Beside;
}>;

const NO_SUMS = { degreeHoursAbove: 0, degreeHoursBelow: 0, reserveDays: 0 };

function sumsOf({ exposure, water }: Present): Sums {
  const { degreeHoursAbove, degreeHoursBelow, reserveDays } = exposure ?? NO_SUMS;
  const { wetHours, mouldIndex } = water ?? { wetHours: 0, mouldIndex: 0 };
  return { degreeHoursAbove, degreeHoursBelow, reserveDays, wetHours, mouldIndex };
}

/** The name of an excursion: where, which kind, when it started (UTC, to the second). */
export function excursionIdOf(subjectId: string, kind: string, startedAtMs: number): string {
  const stamp = new Date(startedAtMs).toISOString().slice(0, 19).replaceAll(/[-:]/g, "");
  return `${subjectId}.${kind}.${stamp}Z`;
}

export function openLane(
  kind: "heat" | "chill" | "damp" | "dry" | "dark",
  cause: Cause,
  urgency: Urgency,
  probeId: string | null,
  startedAtMs: number,
  present: Present,
): Lane {
  const { chamberId, cocoonC } = present;
  return {
    excursionId: excursionIdOf(chamberId, kind, startedAtMs),
    cause,
    urgency,
    probeId,
    startedAtMs,
    overAtMs: null,
    coldestC: cocoonC ?? Number.POSITIVE_INFINITY,
    warmestC: cocoonC ?? Number.NEGATIVE_INFINITY,
    from: sumsOf(present),
  };
}

/** Let an open excursion know the cocoons of this moment. */
export function feelLane(lane: Lane, cocoonC: number): Lane {
  if (cocoonC >= lane.coldestC && cocoonC <= lane.warmestC) return lane;
  const coldestC = Math.min(lane.coldestC, cocoonC);
  return { ...lane, coldestC, warmestC: Math.max(lane.warmestC, cocoonC) };
}

function costOf({ from }: Pick<Lane, "from">, present: Present): Cost {
  const now = sumsOf(present);
  const hasWater = present.water !== null;
  return {
    degreeHoursAbove: now.degreeHoursAbove - from.degreeHoursAbove,
    degreeHoursBelow: now.degreeHoursBelow - from.degreeHoursBelow,
    reserveDays: now.reserveDays - from.reserveDays,
    wetHours: hasWater ? Math.max(0, now.wetHours - from.wetHours) : null,
    mouldIndex: hasWater ? Math.max(0, now.mouldIndex - from.mouldIndex) : null,
  };
}

export function findingOf(
  lane: Lane,
  change: Finding["change"],
  present: Present,
  saying: Saying,
): Finding {
  const { atMs, chamberId, cocoonC, airC, humidityPct, water } = present;
  const felt = lane.coldestC <= lane.warmestC;
  return {
    atMs,
    chamberId,
    probeId: lane.probeId,
    excursionId: lane.excursionId,
    change,
    cause: lane.cause,
    urgency: lane.urgency,
    startedAtMs: lane.startedAtMs,
    cocoonC,
    airC,
    humidityPct,
    cocoonSpanC: felt ? { low: lane.coldestC, high: lane.warmestC } : null,
    comparedWith: saying.comparedWith,
    cost: costOf(lane, present),
    forecast: saying.forecast,
    beside: {
      cocoonHumidityPct: water?.humidityPct ?? null,
      humidityFrom: water?.from ?? null,
      mouldIndex: water?.mouldIndex ?? null,
      ...saying.beside,
    },
  };
}
