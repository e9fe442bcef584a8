import { localDayStarts, localMonthStarts } from "../../shared/local-days.js";
import { localDay } from "../../shared/site-calendar.js";
import { DAY_MS } from "../../shared/time.js";
import type { Address, Look } from "./look.js";
import type { Stretch } from "./material.js";
import { monthWords, shortDayWords } from "./words.js";

/** One stave of a sheet: which days it shows, and where they lie on it. */
export type Row = Readonly<{
  span: Stretch;
  /** First moments of its days, and of the one after them. */
  dayStarts: readonly number[];
  /** The moment at the left edge: before `span` where the first days of a week are left blank. */
  originMs: number;
  heading: string;
  /** What the heading leads to. */
  address: Address | null;
}>;

type Clocked = Pick<Look, "timezone" | "hourCycle">;

/** The calendar months that a stretch touches, each whole. */
export function monthRows(span: Stretch, chamberId: string, look: Clocked): Row[] {
  return paired(localMonthStarts(span, look.timezone)).map((month) => ({
    span: month,
    dayStarts: localDayStarts(month, look.timezone),
    originMs: month.fromMs,
    heading: monthWords(month.fromMs, look),
    address: { kind: "month", chamberId, atMs: month.fromMs },
  }));
}

/**
 * Months with the place at which they stand beside those of another winter: months of one name at
 * one place, counted from July, or where no two have one name, the first beside the first.
 *
 * @param all the months of every winter, these included
 */
export function placeMonths<T extends Readonly<{ monthMs: number }>>(
  months: readonly T[],
  all: readonly (readonly T[])[],
  timezone: string,
): (T & { place: number })[] {
  const nameOf = (one: T) => (Number(localDay(one.monthMs, timezone).slice(5, 7)) + 5) % 12;
  const names = all.flatMap((column) => column.map(nameOf));
  const isShared = new Set(names).size < names.length;
  return months.map((month, i) => ({ ...month, place: isShared ? nameOf(month) : i }));
}

/** The weeks of a stretch, Monday to Sunday, the first and the last cut to it. */
export function weekRows(span: Stretch, look: Clocked): Row[] {
  const starts = localDayStarts(span, look.timezone);
  const first = weekdayOf(starts[0]!, look);
  const rows: Row[] = [];
  for (let from = 0; from < starts.length - 1; ) {
    const weekday = from === 0 ? first : 0;
    const to = Math.min(from + 7 - weekday, starts.length - 1);
    const [fromMs, toMs] = [starts[from]!, starts[to]!];
    rows.push({
      span: { fromMs, toMs },
      dayStarts: starts.slice(from, to + 1),
      originMs: fromMs - weekday * DAY_MS,
      heading: stretchWords(fromMs, toMs - 1, look),
      address: null,
    });
    from = to;
  }
  return rows;
}

function stretchWords(fromMs: number, lastMs: number, look: Clocked): string {
  const [from, to] = [shortDayWords(fromMs, look), shortDayWords(lastMs, look)];
  return from === to ? from : `${from} to ${to}`;
}

const WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

/** 0 is Monday. Asked at midday, which no change of clocks moves to another day. */
export function weekdayOf(dayMs: number, look: Clocked): number {
  return WEEKDAYS.indexOf(shortDayWords(dayMs + DAY_MS / 2, look).slice(0, 3));
}

const paired = (starts: readonly number[]): Stretch[] =>
  starts.slice(1).map((toMs, i) => ({ fromMs: starts[i]!, toMs }));
