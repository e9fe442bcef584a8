import { addDays, type CalendarDay } from "../../shared/calendar-day.js";
import type { Stage } from "./release-plan.js";

/** How often what is done by the calendar is done. */
export type DueRule = Readonly<{ inspectDays: number; weighDays: number }>;

/** A chamber with cocoons in it, as far as what is due there hangs on it. */
export type DueChamber = Readonly<{
  chamberId: string;
  /** Since when there has been a lot in it without a break. */
  filledOn: CalendarDay;
  dampedOn: CalendarDay | null;
  inspectedOn: CalendarDay | null;
  /** By the trend of its humidity, where that tells a day. */
  driesOn: CalendarDay | null;
  /** Two to four weeks after it was last damped or filled; used where no trend tells. */
  calendarOn: CalendarDay;
  /** Humid enough by now that damping would do harm; null where nothing measures it. */
  isDampEnough: boolean | null;
}>;

/** A probe, and when it is to be checked. */
export type DueProbe = Readonly<{
  probeId: string;
  /** By its last check; null where it was never checked. */
  checkOn: CalendarDay | null;
  firstHeardOn: CalendarDay | null;
  /** Whether its last check found it off from the one before. */
  isDrifting: boolean;
}>;

/** A labelled sample of a lot in the cold. */
type DueSample = Readonly<{ lotId: string; label: string; weighedOn: CalendarDay }>;

/** A lot in the cold, and until when that is sound. */
type DueLot = Readonly<{
  lotId: string;
  coldFromOn: CalendarDay;
  latestOn: CalendarDay | null;
}>;

/** One thing to be done, or a day to keep in mind. */
export type Due = Readonly<
  | { kind: "damp"; chamberId: string; by: "trend" | "calendar" }
  | { kind: "inspect"; chamberId: string; lastOn: CalendarDay | null }
  | { kind: "check"; probeId: string; isFirst: boolean; isDrifting: boolean }
  | { kind: "weigh"; lotId: string; label: string }
  | { kind: "release"; lotId: string; size: Stage["size"]; count: number }
  | { kind: "storage-ends"; lotId: string }
> &
  Readonly<{
    /** The same for as long as it is the same thing to do, whatever becomes of its day. */
    id: string;
    on: CalendarDay;
  }>;

export type DueMaterial = Readonly<{
  chambers: readonly DueChamber[];
  probes: readonly DueProbe[];
  samples: readonly DueSample[];
  lots: readonly DueLot[];
  /** What may be put out now, in its stages; empty while nothing may. */
  stages: readonly Stage[];
}>;

/**
 * All that is due, or will be, soonest first. A thing done is due again under another id. Never
 * throws.
 *
 * Source: damping, an inspection each fortnight and a check each autumn are common practice, no
 * source; weighing each month is our choice.
 */
export function listDue(material: DueMaterial, rule: DueRule): readonly Due[] {
  const { chambers, probes, samples, lots, stages } = material;
  const all: Due[] = [
    ...chambers.flatMap((chamber) => [...dampingOf(chamber), inspectionOf(chamber, rule)]),
    ...probes.flatMap(checkOf),
    ...samples.map(({ lotId, label, weighedOn }): Due => {
      const id = `weigh.${lotId}.${label}.${weighedOn}`;
      return { kind: "weigh", id, on: addDays(weighedOn, rule.weighDays), lotId, label };
    }),
    ...stages.map(({ on, lotId, size, count }): Due => {
      return { kind: "release", id: `release.${lotId}.${size}`, on, lotId, size, count };
    }),
    ...lots.flatMap(({ lotId, coldFromOn, latestOn }): Due[] => {
      const id = `storage-ends.${lotId}.${coldFromOn}`;
      return latestOn === null ? [] : [{ kind: "storage-ends", id, on: latestOn, lotId }];
    }),
  ];
  return all.sort((a, b) => compare(a.on, b.on) || compare(a.id, b.id));
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function dampingOf(chamber: DueChamber): Due[] {
  const { chamberId, filledOn, dampedOn, driesOn, calendarOn, isDampEnough } = chamber;
  // Water by the calendar into a box that is damp already would only feed mould.
  if (driesOn === null && isDampEnough === true) return [];
  const id = `damp.${chamberId}.${dampedOn ?? filledOn}`;
  const by = driesOn === null ? "calendar" : "trend";
  return [{ kind: "damp", id, on: driesOn ?? calendarOn, chamberId, by }];
}

function inspectionOf({ chamberId, filledOn, inspectedOn }: DueChamber, rule: DueRule): Due {
  const isSince = inspectedOn !== null && inspectedOn >= filledOn;
  const lastOn = isSince ? inspectedOn : filledOn;
  const on = addDays(lastOn, rule.inspectDays);
  const id = `inspect.${chamberId}.${lastOn}`;
  return { kind: "inspect", id, on, chamberId, lastOn: isSince ? inspectedOn : null };
}

function checkOf({ probeId, checkOn, firstHeardOn, isDrifting }: DueProbe): Due[] {
  const on = checkOn ?? firstHeardOn;
  if (on === null) return [];
  const id = `check.${probeId}.${on}`;
  return [{ kind: "check", id, on, probeId, isFirst: checkOn === null, isDrifting }];
}
