import { type Excursion, outranks } from "../../shared/excursion.js";
import type { Span } from "../../shared/site.js";
import { DAY_MS } from "../../shared/time.js";
import { addExposure, beginExposure, type Exposure } from "../exposure.js";
import { beginMould, COCOON_SENSITIVITY, type Mould, stepMould } from "../mould.js";
import { NEVER_SUITABLE_C } from "../never-suitable.js";
import type { Stay } from "./lot-stays.js";

/** An hour of the cocoons of one chamber. */
export type CocoonHour = Readonly<{
  chamberId: string;
  fromMs: number;
  toMs: number;
  meanC: number;
  lowC: number;
  highC: number;
  /** Humidity at the cocoons, %RH; null where nothing measures it. */
  humidityPct: number | null;
}>;

/** What a lot went through in the cold, wherever it was. */
export type LotSeason = Readonly<{
  /** Days in the cold, and of these the days that were seen. */
  storedDays: number;
  seenDays: number;
  chillDays: number;
  /** Equivalent days at 4 °C, Q10 2.5, and the span for Q10 2 and 3; of what was seen. */
  reserveDays: number;
  reserveDaysSpan: Span;
  degreeHoursAbove: number;
  degreeHoursBelow: number;
  /** null before anything was seen. */
  cocoonSpanC: Span | null;
  /** Hours that touched what is never suitable for wintering. */
  hotHours: number;
  /** 0 to 6; null where no humidity is known. */
  mouldIndex: number | null;
  worst: Excursion | null;
}>;

/** What the figures of a lot are reckoned from. */
export type LotSeasonMaterial = Readonly<{
  stays: readonly Stay[];
  /** Of all chambers, in any order. */
  hours: readonly CocoonHour[];
  /** Of all chambers. */
  excursions: readonly Excursion[];
  bandOf(chamberId: string): Span;
  /** Time at or below this counts as chill, °C. */
  chillBelowC: number;
  nowMs: number;
}>;

/**
 * What a lot went through, put together from the hours of each chamber while it was there. An hour
 * in which it was moved counts by its share. Hours that nobody saw add nothing.
 *
 * An hour stands for its mean: the cocoons lag about an hour behind their air, so that what the
 * mean hides of a curved rate is under a part in a thousand where an hour spans 2 K.
 */
export function lotSeason(material: LotSeasonMaterial): LotSeason {
  const { stays, nowMs, bandOf, chillBelowC } = material;
  let sum: Exposure | null = null;
  let mould: Mould | null = null;
  let [chillMs, hotHours] = [0, 0];
  for (const hour of hoursOf(material)) {
    const { chamberId, fromMs, toMs, meanC, lowC, highC, humidityPct } = hour;
    const before: Exposure = sum ?? beginExposure(fromMs, lowC);
    const coldestC = Math.min(before.coldestC, lowC);
    const warmestC = Math.max(before.warmestC, highC);
    const begun = { ...before, atMs: fromMs, cocoonC: meanC, coldestC, warmestC };
    sum = addExposure(begun, toMs, meanC, bandOf(chamberId), toMs - fromMs);
    if (meanC <= chillBelowC) chillMs += toMs - fromMs;
    if (highC >= NEVER_SUITABLE_C) hotHours += 1;
    if (humidityPct === null) continue;
    mould = { ...(mould ?? beginMould(fromMs)), atMs: fromMs };
    mould = stepMould(mould, toMs, meanC, humidityPct, COCOON_SENSITIVITY, toMs - fromMs);
  }
  const storedMs = stays.reduce((ms, { fromMs, toMs }) => ms + (toMs ?? nowMs) - fromMs, 0);
  const ofReserve = [sum?.reserveDaysQ2 ?? 0, sum?.reserveDaysQ3 ?? 0];
  return {
    storedDays: storedMs / DAY_MS,
    seenDays: (sum?.seenMs ?? 0) / DAY_MS,
    chillDays: chillMs / DAY_MS,
    reserveDays: sum?.reserveDays ?? 0,
    reserveDaysSpan: { low: Math.min(...ofReserve), high: Math.max(...ofReserve) },
    degreeHoursAbove: sum?.degreeHoursAbove ?? 0,
    degreeHoursBelow: sum?.degreeHoursBelow ?? 0,
    cocoonSpanC: sum === null ? null : { low: sum.coldestC, high: sum.warmestC },
    hotHours,
    mouldIndex: mould?.index ?? null,
    worst: worstOf(material),
  };
}

/** The hours of a lot, each cut to the time that it was there; in order of time. */
function hoursOf({ stays, hours, nowMs }: LotSeasonMaterial): readonly CocoonHour[] {
  return stays.flatMap((stay) => {
    const untilMs = stay.toMs ?? nowMs;
    return hours
      .filter(({ chamberId, fromMs, toMs }) => {
        return chamberId === stay.chamberId && fromMs < untilMs && toMs > stay.fromMs;
      })
      .sort((a, b) => a.fromMs - b.fromMs)
      .map((hour) =>
        hour.fromMs >= stay.fromMs && hour.toMs <= untilMs
          ? hour
          : {
              ...hour,
              fromMs: Math.max(hour.fromMs, stay.fromMs),
              toMs: Math.min(hour.toMs, untilMs),
            },
      );
  });
}

/** Of the excursions that a lot lived through, the most urgent, and of these the dearest. */
function worstOf({ stays, excursions, nowMs }: LotSeasonMaterial): Excursion | null {
  const lived = excursions.filter(({ chamberId, startedAtMs, endedAtMs }) =>
    stays.some(
      (stay) =>
        stay.chamberId === chamberId &&
        startedAtMs < (stay.toMs ?? nowMs) &&
        (endedAtMs ?? nowMs) > stay.fromMs,
    ),
  );
  const costOf = ({ latest: { cost } }: Excursion): number =>
    cost.degreeHoursAbove + cost.degreeHoursBelow;
  const worse = (a: Excursion, b: Excursion): boolean =>
    outranks(a.urgency, b.urgency) || (a.urgency === b.urgency && costOf(a) > costOf(b));
  return lived.reduce<Excursion | null>((worst, one) => {
    return worst === null || worse(one, worst) ? one : worst;
  }, null);
}
