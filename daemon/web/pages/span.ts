import { Temporal } from "temporal-polyfill";
import type { Stretch } from "../../drawing/material.js";

/** A part of the calendar as an address names it: a winter's year, a month, or a day. */
export type CalendarSpan = Stretch &
  Readonly<{
    kind: "month" | "day";
    /** As the address has it: 2026-01, 2026-01-11. */
    name: string;
    /** The same of the span before and after it. */
    before: string;
    after: string;
  }>;

/** Addresses of other centuries lead nowhere, so that no calendar is asked what it does not know. */
const SHAPE = /^20\d\d-(\d\d)(-\d\d)?$/;

/** The month or day of a name in the site's zone; null where there is none of that name. */
export function readSpan(name: string, timezone: string): CalendarSpan | null {
  if (!SHAPE.test(name)) return null;
  const startOf = (day: Temporal.PlainDate) => day.toZonedDateTime(timezone).epochMilliseconds;
  try {
    if (name.length === 7) {
      const month = Temporal.PlainYearMonth.from(name);
      const [from, to] = [month, month.add({ months: 1 })].map((one) =>
        one.toPlainDate({ day: 1 }),
      );
      const before = month.subtract({ months: 1 }).toString();
      const after = month.add({ months: 1 }).toString();
      return { kind: "month", name, before, after, fromMs: startOf(from!), toMs: startOf(to!) };
    }
    const day = Temporal.PlainDate.from(name);
    const next = day.add({ days: 1 });
    const before = day.subtract({ days: 1 }).toString();
    return {
      kind: "day",
      name,
      before,
      after: next.toString(),
      fromMs: startOf(day),
      toMs: startOf(next),
    };
  } catch {
    return null;
  }
}
