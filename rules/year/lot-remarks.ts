import { addDays, type CalendarDay, daysBetween } from "../../shared/calendar-day.js";
import type { SpeciesProfile } from "../../shared/species.js";
import { matrixDaysMost, steadyC } from "../matrix.js";
import type { LotSeason } from "./lot-season.js";

/** What a keeper should know of a lot. */
export type LotRemark = Readonly<
  /** It was warm as adults for longer before the cold than is advised. */
  | { kind: "came-late"; warmDays: number; mostDays: number }
  /** In store, it was at what is never suitable. */
  | { kind: "too-warm"; hours: number; fromC: number }
  /** Out of the cold for so many days between two stays. */
  | { kind: "taken-out"; days: number }
  /** Its sound storage ends, or has ended (`daysLeft` below 0). */
  | { kind: "ends"; on: CalendarDay; daysLeft: number }
  /** So much of its time in the cold was not seen that its figures are too low. */
  | { kind: "unseen"; days: number }
>;

/** Cool within two to four weeks of adulthood: SARE Handbook 11 (2010), chapter 6. */
const WARM_DAYS_MOST = 28;
/** What is left of sound storage when it is first said; our choice. */
const ENDS_SOON_DAYS = 30;
/** A day out for cleaning or sorting is no matter; our choice. */
const OUT_DAYS_LEAST = 2;
/** A tenth of the time, and three days; our choice. */
const UNSEEN_SHARE_LEAST = 0.1;
const UNSEEN_DAYS_LEAST = 3;
/** Under two weeks say nothing of how warm a winter is; as the matrix has it. */
const MATRIX_DAYS_LEAST = 14;

/**
 * Days of storage that are sound in all: the least of what is usual for the species, of what the
 * wintering matrix allows at the steady temperature that would have burnt as much, and of the day
 * on which the reserve of a usual winter is spent at the same rate.
 *
 * Source: see the species' profile and the matrix; that the least of them counts is our choice.
 */
export function soundStorageDays(season: LotSeason, profile: SpeciesProfile): number {
  const usualDays = profile.storageDays.value.high;
  const { seenDays, reserveDays } = season;
  const steady = steadyC(seenDays, reserveDays);
  if (steady === null || seenDays < MATRIX_DAYS_LEAST) return usualDays;
  const byReserve = (usualDays * seenDays) / reserveDays;
  return Math.floor(Math.min(usualDays, matrixDaysMost(steady), byReserve));
}

/**
 * The last day of a lot's sound storage; null before it is in the cold.
 *
 * @param coldFromOn its first day in the cold
 */
export function latestDay(
  coldFromOn: CalendarDay | null,
  season: LotSeason,
  profile: SpeciesProfile,
): CalendarDay | null {
  return coldFromOn === null ? null : addDays(coldFromOn, soundStorageDays(season, profile));
}

/** What is to be said of a lot that is not over yet; worst first. */
export function remarkOn(
  lot: Readonly<{ warmDays: number | null; outDays: number; latestOn: CalendarDay | null }>,
  season: LotSeason,
  profile: SpeciesProfile,
  today: CalendarDay,
): readonly LotRemark[] {
  const { warmDays, outDays, latestOn } = lot;
  const remarks: LotRemark[] = [];
  const daysLeft = latestOn === null ? null : daysBetween(today, latestOn);
  if (latestOn !== null && daysLeft !== null && daysLeft <= ENDS_SOON_DAYS)
    remarks.push({ kind: "ends", on: latestOn, daysLeft });
  const fromC = profile.neverSuitableC.value;
  if (season.hotHours > 0) remarks.push({ kind: "too-warm", hours: season.hotHours, fromC });
  if (outDays >= OUT_DAYS_LEAST) remarks.push({ kind: "taken-out", days: outDays });
  if (warmDays !== null && warmDays > WARM_DAYS_MOST)
    remarks.push({ kind: "came-late", warmDays, mostDays: WARM_DAYS_MOST });
  const unseenDays = season.storedDays - season.seenDays;
  if (unseenDays >= UNSEEN_DAYS_LEAST && unseenDays >= UNSEEN_SHARE_LEAST * season.storedDays)
    remarks.push({ kind: "unseen", days: unseenDays });
  return remarks;
}
