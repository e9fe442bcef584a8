import { localDay } from "../../shared/site-calendar.js";
import { html, type Markup } from "../html.js";
import { numberWords, temperatureWords } from "../letters/temperature-words.js";
import {
  clockWords,
  dayWords,
  durationWords,
  momentWords,
  stretchWords,
} from "../letters/time-words.js";
import type { Asking } from "./page.js";

const NOT_KNOWN = "not known";

/**
 * What a page says of figures and times, in the keeper's unit, the site's zone, the reader's way.
 * Days and moments of another year than now's name it.
 */
export type Words = Readonly<{
  degrees(temperatureC: number | null): string;
  percent(humidityPct: number | null): string;
  clock(atMs: number): Markup;
  day(atMs: number): Markup;
  moment(atMs: number): Markup;
  /** "03:15 to 05:40 on Sunday 11 January". */
  stretch(fromMs: number, toMs: number): string;
  /** How long ago: "12 minutes". */
  since(atMs: number): string;
}>;

/** Speak as the one who asks reads. */
export function wordsFor({ config, nowMs, hourCycle }: Asking): Words {
  const { temperatureUnit: unit } = config;
  const { timezone } = config.site;
  const yearOf = (atMs: number) => localDay(atMs, timezone).slice(0, 4);
  const year = yearOf(nowMs);
  const dated = (atMs: number, words: string) =>
    timed(atMs, yearOf(atMs) === year ? words : `${words} ${yearOf(atMs)}`);
  const timed = (atMs: number, words: string) =>
    html`<time datetime="${new Date(atMs).toISOString()}">${words}</time>`;
  return {
    degrees: (value) => (value === null ? NOT_KNOWN : bound(temperatureWords(value, unit))),
    percent: (value) => (value === null ? NOT_KNOWN : bound(`${numberWords(value, 0)} %`)),
    clock: (atMs) => timed(atMs, clockWords(atMs, timezone, hourCycle)),
    day: (atMs) => dated(atMs, dayWords(atMs, timezone)),
    moment: (atMs) => dated(atMs, momentWords(atMs, timezone, hourCycle)),
    stretch: (fromMs, toMs) => stretchWords(fromMs, toMs, timezone, hourCycle),
    since: (atMs) => durationWords(nowMs - atMs),
  };
}

/** Keep a value and its unit on one line. */
export const bound = (text: string): string => text.replace(/ (?=°|%)/g, "\u00a0");
