import { type DayHigh, judgeRelease, type ReleaseVerdict } from "../../rules/year/release.js";
import { planRelease, type Stage } from "../../rules/year/release-plan.js";
import { addDays, type CalendarDay } from "../../shared/calendar-day.js";
import type { Entry } from "../../shared/journal.js";
import { localDay, startOfLocalDay } from "../../shared/site-calendar.js";
import { DAY_MS } from "../../shared/time.js";
import type { Config } from "../config.js";
import type { LotReport } from "../journal/lot-report.js";
import type { Store } from "../store/store.js";

/** Whether one lot may be let go. */
export type LotVerdict = Readonly<{
  lotId: string;
  verdict: ReleaseVerdict;
  /** Days of its chill that nobody saw, taken for cold because it was in store. */
  unseenDays: number;
  latestOn: CalendarDay | null;
}>;

/** Whether lots may be let go, and in which stages. */
export type ReleaseReport = Readonly<{
  /** Of the lot that is nearest to it. */
  word: ReleaseVerdict["word"];
  lots: readonly LotVerdict[];
  /** Of the lots that are ready; empty while none is. */
  stages: readonly Stage[];
}>;

/** Far more than any row of warm days that is asked for. */
const HIGHS_DAYS = 60;
const WORDS = ["ready", "soon", "hold"] as const;

/** Judge the lots in the cold, of which there is at least one. */
export function judgeLots(
  store: Pick<Store, "rollups">,
  { site, release }: Pick<Config, "site" | "release">,
  cold: readonly LotReport[],
  holding: readonly Entry[],
  nowMs: number,
): ReleaseReport {
  const today = localDay(nowMs, site.timezone);
  const highs = dayHighs(store, site, nowMs);
  const bloomMs = holding.findLast(({ act }) => act.kind === "bloom")?.atMs ?? null;
  const bloomOn = bloomMs === null ? null : localDay(bloomMs, site.timezone);
  const lots = cold.map(({ lot, season, profile, latestOn }): LotVerdict => {
    const unseenDays = Math.max(0, season.storedDays - season.seenDays);
    const facts = {
      today,
      highs,
      chillDays: season.chillDays + unseenDays,
      chillNeededDays: profile.chillDaysBest.value.low,
      bloomOn,
    };
    return { lotId: lot.id, verdict: judgeRelease(facts, release), unseenDays, latestOn };
  });
  const word = WORDS.find((one) => lots.some(({ verdict }) => verdict.word === one))!;
  const ready = lots.filter(({ verdict }) => verdict.word === "ready");
  const from = ready.map(({ verdict }) => readyOn(verdict, release.warmDays, today)).sort()[0];
  const planned = cold.filter(({ lot }) => ready.some(({ lotId }) => lotId === lot.id));
  return {
    word,
    lots,
    stages:
      from === undefined ? [] : planRelease(planned.map(planLot(site.timezone)), from, release),
  };
}

/**
 * The highest temperature outdoors of each day, from every probe there. Of several the lowest
 * counts, for a probe that the sun reaches shows too much; our choice.
 */
function dayHighs(
  store: Pick<Store, "rollups">,
  site: Config["site"],
  nowMs: number,
): readonly DayHigh[] {
  const fromMs = startOfLocalDay(nowMs - HIGHS_DAYS * DAY_MS, site.timezone);
  const lowest = new Map<CalendarDay, number>();
  for (const { id } of site.probes.filter(({ place }) => place === "outdoors"))
    for (const { fromMs: dayMs, temperature } of store.rollups.days(id, fromMs, nowMs + 1)) {
      if (temperature === null) continue;
      const day = localDay(dayMs, site.timezone);
      lowest.set(day, Math.min(temperature.highC, lowest.get(day) ?? Number.POSITIVE_INFINITY));
    }
  return [...lowest].map(([day, highC]) => ({ day, highC }));
}

/** The day on which a verdict that is ready became so, as far as its reasons tell. */
function readyOn({ reasons }: ReleaseVerdict, warmDays: number, today: CalendarDay): CalendarDay {
  const since = reasons.flatMap((reason) => {
    if (reason.condition === "warmth" && reason.since !== null)
      return [addDays(reason.since, warmDays - 1)];
    return reason.condition === "bloom" && reason.on !== null ? [reason.on] : [];
  });
  return since.sort().at(-1) ?? today;
}

const planLot =
  (timezone: string) =>
  ({ lot, course, latestOn, season, entries }: LotReport) => {
    const males = entries.findLast(({ act }) => act.kind === "released" && act.small > 0);
    return {
      lotId: lot.id,
      small: Math.max(0, lot.small - course.releasedSmall),
      large: Math.max(0, lot.large - course.releasedLarge),
      malesOutOn: males === undefined ? null : localDay(males.atMs, timezone),
      latestOn,
      reserveDays: season.reserveDays,
    };
  };
