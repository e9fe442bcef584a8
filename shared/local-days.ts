import { Temporal } from "temporal-polyfill";
import { localDay, startOfLocalDay, startOfNextLocalDay } from "./site-calendar.js";
import { DAY_MS } from "./time.js";

/** A stretch of time, Unix ms, its end not in it. */
type Stretch = Readonly<{ fromMs: number; toMs: number }>;

/** Longer than any winter; a guard against a span that is none. */
const MOST_DAYS = 1_000;

// Finding a change of clocks takes a millisecond or more, and a site asks for the same few winters.
const KEPT = 64;
const knownChanges = new Map<string, readonly number[]>();

/**
 * First moments of the calendar days that overlap a stretch, and of the one after them: day `i`
 * lasts from element `i` to element `i + 1`. At most 1,000 days.
 *
 * The same as asking for each next day in turn, but hundreds of times as fast, since only days on
 * which clocks change are looked up.
 *
 * @param timezone IANA name, e.g. "Europe/London"
 * @throws {RangeError} on an unknown zone, or a time that is no moment
 */
export function localDayStarts({ fromMs, toMs }: Stretch, timezone: string): number[] {
  let dayMs = startOfLocalDay(fromMs, timezone);
  const changes = changesWithin(dayMs, Math.min(toMs, dayMs + MOST_DAYS * DAY_MS), timezone);
  const starts = [dayMs];
  while (dayMs < toMs && starts.length <= MOST_DAYS) {
    const plainMs = dayMs + DAY_MS;
    const isPlain = !changes.some((atMs) => atMs > dayMs && atMs <= plainMs);
    dayMs = isPlain ? plainMs : startOfNextLocalDay(dayMs, timezone);
    starts.push(dayMs);
  }
  return starts;
}

/** First moments of the calendar months that overlap a stretch, and of the one after them. */
export function localMonthStarts({ fromMs, toMs }: Stretch, timezone: string): number[] {
  let month = Temporal.PlainYearMonth.from(localDay(fromMs, timezone).slice(0, 7));
  const startOf = (one: Temporal.PlainYearMonth) =>
    one.toPlainDate({ day: 1 }).toZonedDateTime(timezone).epochMilliseconds;
  const starts = [startOf(month)];
  while (starts.at(-1)! < toMs && starts.length <= MOST_DAYS / 28) {
    month = month.add({ months: 1 });
    starts.push(startOf(month));
  }
  return starts;
}

/** When clocks change from `fromMs` up to two days after `toMs`. */
function changesWithin(fromMs: number, toMs: number, timezone: string): readonly number[] {
  const key = `${timezone} ${fromMs} ${toMs}`;
  const known = knownChanges.get(key);
  if (known !== undefined) return known;
  const changes: number[] = [];
  let at: Temporal.ZonedDateTime | null = Temporal.Instant.fromEpochMilliseconds(
    Math.floor(fromMs),
  ).toZonedDateTimeISO(timezone);
  // Two a year is usual; the bound is for bad zone data.
  for (let left = 32; at !== null && left > 0; left--) {
    at = at.getTimeZoneTransition("next");
    if (at === null || at.epochMilliseconds > toMs + 2 * DAY_MS) break;
    changes.push(at.epochMilliseconds);
  }
  if (knownChanges.size >= KEPT) knownChanges.clear();
  knownChanges.set(key, changes);
  return changes;
}
