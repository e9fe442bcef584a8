import { Temporal } from "temporal-polyfill";
import type { Chamber, Site } from "../../shared/site.js";
import { cocoonSeriesId } from "../../shared/site.js";
import { startOfNextLocalDay } from "../../shared/site-calendar.js";
import type { Stretch } from "../drawing/material.js";
import type { Store } from "../store/records.js";

/** A winter is called by the year in which it began. */
export type Winter = Stretch & Readonly<{ year: number }>;

type Rollups = Pick<Store, "rollups">;

/**
 * The year around a winter: from one midsummer to the next, when no cocoon lies in a fridge. That
 * is 1 July; where clocks are put forward for January, the summer is there and it is 1 January.
 * Our choice.
 */
function winterOfYear(year: number, timezone: string): Winter {
  const [fromMs, toMs] = [year, year + 1].map((one) => turnOf(one, timezone));
  return { year, fromMs: fromMs!, toMs: toMs! };
}

/** The winter that a moment is in. */
export function winterAt(atMs: number, timezone: string): Winter {
  const { year } = Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO(timezone);
  return winterOfYear(atMs < turnOf(year, timezone) ? year - 1 : year, timezone);
}

/**
 * The winters in which a chamber was watched, oldest first, each from its first day with a reading
 * to the end of its last.
 */
export function keptWinters(
  store: Rollups,
  { timezone, probes }: Site,
  { id }: Chamber,
): readonly Winter[] {
  const ids = probes.filter(({ chamberId }) => chamberId === id).map((probe) => probe.id);
  const winters = new Map<number, Winter>();
  for (const one of [cocoonSeriesId(id), ...ids]) {
    const days = store.rollups.days(one, 0, Number.MAX_SAFE_INTEGER).map(({ fromMs }) => fromMs);
    for (let first = days[0]; first !== undefined; ) {
      const whole = winterAt(first, timezone);
      const next = days.find((dayMs) => dayMs >= whole.toMs);
      const last = days.findLast((dayMs) => dayMs < whole.toMs)!;
      const toMs = startOfNextLocalDay(last, timezone);
      winters.set(whole.year, joined(winters.get(whole.year), { ...whole, fromMs: first, toMs }));
      first = next;
    }
  }
  return [...winters.values()].sort((a, b) => a.year - b.year);
}

const joined = (one: Winter | undefined, other: Winter): Winter =>
  one === undefined
    ? other
    : {
        year: one.year,
        fromMs: Math.min(one.fromMs, other.fromMs),
        toMs: Math.max(one.toMs, other.toMs),
      };

function turnOf(year: number, timezone: string): number {
  const startOf = (month: number) =>
    Temporal.PlainDate.from({ year, month, day: 1 }).toZonedDateTime(timezone);
  const [january, july] = [startOf(1), startOf(7)];
  const isSouthern = january.offsetNanoseconds > july.offsetNanoseconds;
  return (isSouthern ? january : july).epochMilliseconds;
}
