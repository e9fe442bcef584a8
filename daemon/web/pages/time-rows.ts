import { localDayStarts } from "../../../shared/local-days.js";
import type { Chamber } from "../../../shared/site.js";
import { localDay, startOfLocalHour } from "../../../shared/site-calendar.js";
import { HOUR_MS } from "../../../shared/time.js";
import type { Stretch } from "../../drawing/material.js";
import { shortDayWords, shortMomentWords } from "../../drawing/words.js";
import { clockWords } from "../../letters/time-words.js";
import { winterAddress } from "../address.js";
import type { Asking } from "../page.js";
import { type Row, timedHead } from "./course-table.js";

/** Rows of a table; a bound for bad zone data and for what lasts a season. */
const MOST_ROWS = 400;

/** The days of a stretch up to now, each leading to its page. */
export function dayRows({ id }: Chamber, span: Stretch, asking: Asking): Row[] {
  const { timezone } = asking.config.site;
  const look = { timezone, hourCycle: asking.hourCycle };
  const starts = localDayStarts(span, timezone).filter((atMs) => atMs < span.toMs);
  return knownRows(starts, span, asking).map((day) => {
    const href = winterAddress(id, localDay(day.fromMs, timezone));
    return { ...day, head: timedHead(day, shortDayWords(day.fromMs, look), href) };
  });
}

/** The hours of a stretch up to now. Where they are of one day, their clock times say enough. */
export function hourRows(span: Stretch, asking: Asking): Row[] {
  const { config, hourCycle } = asking;
  const { timezone } = config.site;
  const isOneDay = localDay(span.fromMs, timezone) === localDay(span.toMs - 1, timezone);
  const words = (atMs: number) =>
    isOneDay
      ? clockWords(atMs, timezone, hourCycle)
      : shortMomentWords(atMs, { timezone, hourCycle });
  const starts: number[] = [];
  for (let atMs = span.fromMs; atMs < span.toMs && starts.length < MOST_ROWS; ) {
    starts.push(atMs);
    atMs = startOfLocalHour(atMs + HOUR_MS, timezone);
  }
  return knownRows(starts, span, asking).map((hour) => ({
    ...hour,
    head: timedHead(hour, words(hour.fromMs)),
  }));
}

function knownRows(starts: readonly number[], span: Stretch, { nowMs }: Asking): Stretch[] {
  return starts
    .map((startMs, i) => ({
      fromMs: Math.max(span.fromMs, startMs),
      toMs: Math.min(span.toMs, starts[i + 1] ?? span.toMs),
    }))
    .filter(({ fromMs }) => fromMs < nowMs)
    .slice(0, MOST_ROWS);
}
