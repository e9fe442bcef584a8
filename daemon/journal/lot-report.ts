import { profileOf } from "../../rules/species.js";
import { entriesThatHold } from "../../rules/year/journal-view.js";
import { type MouldLooks, mouldLooks } from "../../rules/year/lot-looks.js";
import { type LotRemark, latestDay, remarkOn } from "../../rules/year/lot-remarks.js";
import { type CocoonHour, type LotSeason, lotSeason } from "../../rules/year/lot-season.js";
import { followLot, type LotCourse } from "../../rules/year/lot-stays.js";
import { type MassLoss, massLoss, type Weighing } from "../../rules/year/mass-loss.js";
import { type Proportion, proportionOf } from "../../rules/year/proportion.js";
import { expectSexRatio, type SexRatio } from "../../rules/year/sex-ratio.js";
import type { CalendarDay } from "../../shared/calendar-day.js";
import type { Excursion } from "../../shared/excursion.js";
import type { Entry, Lot } from "../../shared/journal.js";
import type { Site } from "../../shared/site.js";
import { localDay } from "../../shared/site-calendar.js";
import type { SpeciesProfile } from "../../shared/species.js";
import { DAY_MS } from "../../shared/time.js";
import type { Store } from "../store/store.js";
import { cocoonHours } from "./cocoon-hours.js";
import { latestLots } from "./draft.js";

/** A labelled sample and how its mass goes. */
export type SampleReport = Readonly<{
  label: string;
  cocoons: number;
  weighings: readonly (Weighing & { no: number })[];
  loss: MassLoss | null;
}>;

/** All that is known of a lot. */
export type LotReport = Readonly<{
  lot: Lot;
  profile: SpeciesProfile;
  /** Its entries that hold, in the order in which things were done. */
  entries: readonly Entry[];
  course: LotCourse;
  /** Where it is; null out of the cold. */
  chamberId: string | null;
  /** Its first day in the cold; null while it never was. */
  coldFromOn: CalendarDay | null;
  /** Its last day of sound storage; null while it never was in the cold. */
  latestOn: CalendarDay | null;
  sexRatio: SexRatio | null;
  season: LotSeason;
  /** It stands beside the mould index and does not change it. */
  mouldLooked: MouldLooks | null;
  remarks: readonly LotRemark[];
  samples: readonly SampleReport[];
  /** Of all samples opened; null before the first. */
  parasitised: Proportion | null;
  dead: Proportion | null;
}>;

/** Where every lot was, in the order in which they were first written; next to nothing to reckon. */
export function followLots({ journal }: Pick<Store, "journal">): readonly FollowedLot[] {
  const { entries, lots } = journal.soFar();
  const holding = entriesThatHold(entries);
  return [...latestLots(lots).values()].map((lot) => {
    return { lot, course: followLot(lot.id, holding, lot) };
  });
}

type FollowedLot = Readonly<{ lot: Lot; course: LotCourse }>;

/**
 * Report on every lot, in the order in which they were first written.
 *
 * @param onlyId a lot that is wanted alone
 */
export function reportLots(
  store: Pick<Store, "journal" | "rollups" | "excursions">,
  site: Site,
  nowMs: number,
  onlyId: string | null = null,
): readonly LotReport[] {
  const holding = entriesThatHold(store.journal.soFar().entries);
  const hours = openHours(store, site, nowMs);
  const followed = followLots(store).filter(({ lot }) => onlyId === null || lot.id === onlyId);
  const fromMs = Math.min(
    nowMs,
    ...followed.flatMap(({ course }) => course.stays[0]?.fromMs ?? []),
  );
  // Read once, however many lots there are: each is parsed.
  const excursions = store.excursions.mattering(fromMs, nowMs + 1);
  return followed.map(({ lot, course }) => {
    const season = seasonOf(lot, course, { excursions, site, nowMs, hours });
    return report(lot, course, season, holding, site, nowMs);
  });
}

type Sources = Readonly<{
  excursions: readonly Excursion[];
  site: Site;
  nowMs: number;
  hours(chamberId: string, fromMs: number): readonly CocoonHour[];
}>;

function seasonOf(lot: Lot, { stays }: LotCourse, sources: Sources): LotSeason {
  const { excursions, site, nowMs, hours } = sources;
  const profile = profileOf(lot.species, site.ownSpecies);
  const [first] = stays;
  const bandOf = (chamberId: string) =>
    site.chambers.find(({ id }) => id === chamberId)?.bandC ?? profile.bandC.value;
  return lotSeason({
    stays,
    hours: stays
      .filter(({ chamberId }, i) => stays.findIndex((s) => s.chamberId === chamberId) === i)
      .flatMap(({ chamberId }) => hours(chamberId, first!.fromMs)),
    excursions,
    bandOf,
    chillBelowC: profile.chillBelowC.value,
    nowMs,
  });
}

/** A chamber's hours are read once, from the earliest instant that any lot has asked for. */
function openHours(store: Pick<Store, "rollups">, site: Site, nowMs: number): Sources["hours"] {
  const read = new Map<string, { fromMs: number; hours: readonly CocoonHour[] }>();
  return (chamberId, fromMs) => {
    const before = read.get(chamberId);
    if (before !== undefined && before.fromMs <= fromMs) return before.hours;
    // The hour in which a lot comes begins before it.
    const hours = cocoonHours(store, site, chamberId, fromMs - DAY_MS, nowMs + 1);
    read.set(chamberId, { fromMs, hours });
    return hours;
  };
}

function report(
  lot: Lot,
  course: LotCourse,
  season: LotSeason,
  holding: readonly Entry[],
  site: Site,
  nowMs: number,
): LotReport {
  const { stays, overAtMs } = course;
  const profile = profileOf(lot.species, site.ownSpecies);
  const entries = holding.filter(({ lotId }) => lotId === lot.id);
  const dayOf = (atMs: number) => localDay(atMs, site.timezone);
  const [first, last] = [stays[0], stays.at(-1)];
  const coldFromOn = first === undefined ? null : dayOf(first.fromMs);
  const latestOn = latestDay(coldFromOn, season, profile);
  const outDays = daysOut(course, nowMs);
  const opened = entries.flatMap(({ act }) => (act.kind === "opened" ? [act] : []));
  const of = opened.reduce((sum, { cocoons }) => sum + cocoons, 0);
  const share = (name: "parasitised" | "dead"): Proportion | null =>
    of === 0
      ? null
      : proportionOf(
          opened.reduce((sum, sample) => sum + sample[name], 0),
          of,
        );
  return {
    lot,
    profile,
    entries,
    course,
    chamberId: last?.toMs === null ? last.chamberId : null,
    coldFromOn,
    latestOn,
    sexRatio: expectSexRatio(lot.large, lot.small),
    season,
    mouldLooked: mouldLooks(lot.id, stays, holding),
    remarks:
      overAtMs === null
        ? remarkOn({ warmDays: lot.warmDays, outDays, latestOn }, season, profile, dayOf(nowMs))
        : [],
    samples: samplesIn(entries),
    parasitised: share("parasitised"),
    dead: share("dead"),
  };
}

/** Days out of the cold since it first went in, up to its end or to now. */
function daysOut({ stays, overAtMs }: LotCourse, nowMs: number): number {
  const untilMs = overAtMs ?? nowMs;
  const gapsMs = stays.map(({ toMs }, i) => {
    const next = stays[i + 1]?.fromMs ?? untilMs;
    return toMs === null ? 0 : Math.max(0, next - toMs);
  });
  return gapsMs.reduce((sum, ms) => sum + ms, 0) / DAY_MS;
}

function samplesIn(entries: readonly Entry[]): readonly SampleReport[] {
  const byLabel = new Map<string, { cocoons: number; weighings: (Weighing & { no: number })[] }>();
  for (const { act, atMs, no } of entries) {
    if (act.kind !== "weighed") continue;
    const sample = byLabel.get(act.label) ?? { cocoons: act.cocoons, weighings: [] };
    sample.weighings.push({ no, atMs, massG: act.massG, scaleG: act.scaleG });
    byLabel.set(act.label, sample);
  }
  return [...byLabel].map(([label, sample]) => ({
    label,
    ...sample,
    loss: massLoss(sample.weighings),
  }));
}
