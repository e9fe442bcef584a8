import { addDays, type CalendarDay, daysBetween } from "../../shared/calendar-day.js";

/** What a plan needs to know of a lot in store. */
export type PlanLot = Readonly<{
  lotId: string;
  /** Small cocoons, mostly males, and large ones, mostly females. */
  small: number;
  large: number;
  /** When males of it were last put out; null while none were. */
  malesOutOn: CalendarDay | null;
  /** The last day of its sound storage; null where no such day is known. */
  latestOn: CalendarDay | null;
  /** Reserve spent, equivalent days at 4 °C; null where it is not known. */
  reserveDays: number | null;
}>;

export type PlanRule = Readonly<{
  /** Males are put out so many days ahead of the females of their lot. */
  malesAheadDays: number;
  /** From one lot to the next. */
  stageDays: number;
}>;

/** Cocoons to put out on one day. */
export type Stage = Readonly<{
  on: CalendarDay;
  lotId: string;
  size: "small" | "large";
  count: number;
  latestOn: CalendarDay | null;
  /** Days from the stage to the end of sound storage; below 0 it comes too late; null unknown. */
  spareDays: number | null;
}>;

/**
 * In which stages to put cocoons out, the first on `from`: whichever lot must go soonest first, and
 * of two alike the one that has spent more of its reserve; males ahead of their females; lots some
 * days apart, so that one cold week does not meet them all. A lot that can't wait for its turn goes
 * sooner. Never throws.
 *
 * Source: males emerge about a week before females outdoors, Kraemer ME, Favi FD (2010), Environ.
 * Entomol. 39:351–358; in stages is common practice, no source.
 */
export function planRelease(
  lots: readonly PlanLot[],
  from: CalendarDay,
  rule: PlanRule,
): readonly Stage[] {
  const inOrder = lots.filter(({ small, large }) => small + large > 0).sort(byHaste);
  const stages = inOrder.flatMap((lot, turn) => {
    const { lotId, small, large, latestOn } = lot;
    const ahead = small > 0 && large > 0 ? rule.malesAheadDays : 0;
    const on = small > 0 ? startOf(lot, turn, from, rule) : followMales(lot, turn, from, rule);
    const stage = (size: Stage["size"], count: number, day: CalendarDay): Stage[] =>
      count === 0
        ? []
        : [
            {
              on: day,
              lotId,
              size,
              count,
              latestOn,
              spareDays: latestOn === null ? null : daysBetween(day, latestOn),
            },
          ];
    return [...stage("small", small, on), ...stage("large", large, addDays(on, ahead))];
  });
  // A stable sort: of one day the lot in more haste stays first.
  return stages.sort((a, b) => compare(a.on, b.on));
}

/** When the first of a lot go: in its turn, or sooner where it can't wait, never before `from`. */
function startOf(
  { small, large, latestOn }: PlanLot,
  turn: number,
  from: CalendarDay,
  { malesAheadDays, stageDays }: PlanRule,
): CalendarDay {
  const turnOn = addDays(from, turn * stageDays);
  const ahead = small > 0 && large > 0 ? malesAheadDays : 0;
  const lastStart = latestOn === null ? turnOn : addDays(latestOn, -ahead);
  const sooner = [lastStart, turnOn].sort()[0]!;
  return sooner < from ? from : sooner;
}

/** Females whose males are out already wait for no turn, only for their own days. */
function followMales(lot: PlanLot, turn: number, from: CalendarDay, rule: PlanRule): CalendarDay {
  if (lot.malesOutOn === null) return startOf(lot, turn, from, rule);
  const on = addDays(lot.malesOutOn, rule.malesAheadDays);
  return on < from ? from : on;
}

function byHaste(a: PlanLot, b: PlanLot): number {
  const late = "9999-12-31";
  return (
    compare(a.latestOn ?? late, b.latestOn ?? late) ||
    (b.reserveDays ?? 0) - (a.reserveDays ?? 0) ||
    compare(a.lotId, b.lotId)
  );
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
