import { addDays, type CalendarDay, daysBetween } from "../../shared/calendar-day.js";

/** What may be asked for before cocoons are let go. */
export const RELEASE_CONDITIONS = ["warmth", "chill", "bloom"] as const;
type ReleaseCondition = (typeof RELEASE_CONDITIONS)[number];

/** When cocoons may be let go, as the keeper set it. */
export type ReleaseRule = Readonly<{
  /** A day is warm when its maximum outdoors is at or above this, °C. */
  warmC: number;
  /** So many warm days in a row. */
  warmDays: number;
  /** Which of the conditions are asked for; at least one. */
  conditions: readonly ReleaseCondition[];
}>;

/** The highest temperature outdoors on one day of the site; a day that nobody measured is absent. */
export type DayHigh = Readonly<{ day: CalendarDay; highC: number }>;

/** What is known on a day of what a release hangs on. */
export type ReleaseFacts = Readonly<{
  today: CalendarDay;
  /** In any order; today's may still rise. */
  highs: readonly DayHigh[];
  /** Days of cold so far; null where they are not known. */
  chillDays: number | null;
  /** Days of cold that the species needs. */
  chillNeededDays: number;
  /** When the keeper last noted bloom; null for never. */
  bloomOn: CalendarDay | null;
}>;

/** One condition as it stands. */
export type ReleaseReason = Readonly<
  | {
      condition: "warmth";
      met: boolean;
      /** Warm days in a row up to today or, while today is not warm yet, to yesterday. */
      days: number;
      /** The first of them; null for none. */
      since: CalendarDay | null;
      /** Whether any day of the last two weeks was measured at all. */
      known: boolean;
    }
  | { condition: "chill"; met: boolean; days: number | null; neededDays: number }
  | {
      condition: "bloom";
      met: boolean;
      on: CalendarDay | null;
      /** Bloom was noted, but so long ago that it says nothing of today. */
      stale: boolean;
    }
>;

/** Whether to let go: not yet, soon, or now. */
type ReleaseWord = "hold" | "soon" | "ready";

export type ReleaseVerdict = Readonly<{
  word: ReleaseWord;
  /** The conditions asked for, each as it stands. */
  reasons: readonly ReleaseReason[];
  /** It is warm enough, and something else speaks against it: what fools whoever looks outside. */
  isFalseSpring: boolean;
}>;

/** Bloom noted longer ago than this says nothing of today; our choice. */
const BLOOM_GOOD_DAYS = 45;
/** So few days short of the cold needed, the release is near; our choice. */
const CHILL_NEAR_DAYS = 14;
const KNOWN_WITHIN_DAYS = 14;

/**
 * Whether cocoons may be let go. `ready` when all that is asked for is met. `soon` when one thing
 * is missing that comes by itself: warm days while all else is met, or the last two weeks of cold.
 * Warmth alone never makes it soon: a warm spell in January is met with `isFalseSpring`. Bloom
 * and local advice decide in the end. Never throws.
 *
 * A day that was not measured ends a row of warm days, for nobody knows what it was.
 *
 * Source: warm days at or above 13 °C (55 °F) with forage in bloom are common practice, no source;
 * what is near, and when a note of bloom has grown stale, are our choice.
 */
export function judgeRelease(facts: ReleaseFacts, rule: ReleaseRule): ReleaseVerdict {
  const all: readonly ReleaseReason[] = [
    warmthReason(facts, rule),
    {
      condition: "chill",
      met: facts.chillDays !== null && facts.chillDays >= facts.chillNeededDays,
      days: facts.chillDays,
      neededDays: facts.chillNeededDays,
    },
    bloomReason(facts),
  ];
  const reasons = all.filter(({ condition }) => rule.conditions.includes(condition));
  const open = reasons.filter(({ met }) => !met);
  const warm = all[0]!.met;
  return {
    word: open.length === 0 ? "ready" : isNear(reasons, open) ? "soon" : "hold",
    reasons,
    isFalseSpring: warm && open.length > 0,
  };
}

function warmthReason({ highs, today }: ReleaseFacts, rule: ReleaseRule): ReleaseReason {
  const highC = new Map(highs.map((high) => [high.day, high.highC]));
  const isWarm = (day: CalendarDay): boolean => (highC.get(day) ?? -Infinity) >= rule.warmC;
  // Today is not over: while it is not warm yet, it does not end what was up to yesterday.
  let day = isWarm(today) ? today : addDays(today, -1);
  let days = 0;
  while (days < highC.size && isWarm(day)) {
    days += 1;
    day = addDays(day, -1);
  }
  const known = highs.some((high) => daysBetween(high.day, today) <= KNOWN_WITHIN_DAYS);
  const since = days === 0 ? null : addDays(day, 1);
  return { condition: "warmth", met: days >= rule.warmDays, days, since, known };
}

function bloomReason({ bloomOn, today }: ReleaseFacts): ReleaseReason {
  const ageDays = bloomOn === null ? null : daysBetween(bloomOn, today);
  const met = ageDays !== null && ageDays >= 0 && ageDays <= BLOOM_GOOD_DAYS;
  const stale = ageDays !== null && ageDays > BLOOM_GOOD_DAYS;
  return { condition: "bloom", met, on: bloomOn, stale };
}

function isNear(reasons: readonly ReleaseReason[], open: readonly ReleaseReason[]): boolean {
  const [missing, ...more] = open;
  if (missing === undefined || more.length > 0) return false;
  if (missing.condition === "warmth") return reasons.length > 1 || missing.days > 0;
  if (missing.condition === "chill")
    return missing.days !== null && missing.neededDays - missing.days <= CHILL_NEAR_DAYS;
  return false;
}
