import type { Chamber } from "../../../shared/site.js";
import { localDay } from "../../../shared/site-calendar.js";
import { HOUR_MS } from "../../../shared/time.js";
import { shareWords } from "../../digest/reason-words.js";
import type { Look } from "../../drawing/look.js";
import type { Markup } from "../../html.js";
import type { Figure } from "../../letters/body.js";
import {
  degreeHourWords,
  limitWords,
  numberWords,
  temperatureWords,
} from "../../letters/temperature-words.js";
import { durationWords } from "../../letters/time-words.js";
import type { Review, StretchFigures } from "../../season/review.js";
import { tableOfMonths } from "../../season/review-table.js";
import { daysWords } from "../../season/review-words.js";
import { winterAddress } from "../address.js";
import { setFigures } from "../look/set-section.js";
import { setTable } from "../look/set-table.js";
import { timedHead } from "./course-table.js";

/** What the cocoons went through in a whole winter, as a ledger. */
export function setWhole({ whole }: Review, { unit }: Look): Markup | null {
  const { inBandShare, cocoonSpanC, reserveDays, reserveDaysSpan, seenHours, unseenHours } = whole;
  const seen = durationWords(seenHours * HOUR_MS);
  const figures: Figure[] = [];
  const add = (label: string, value: string, remark: string | null = null): void =>
    void figures.push({ label, value, remark });
  if (inBandShare !== null) add("Cocoons in band", shareWords(inBandShare), `of ${seen} seen`);
  if (cocoonSpanC !== null) {
    const { low, high } = cocoonSpanC;
    add("Coldest, warmest", `${temperatureWords(low, unit)}, ${temperatureWords(high, unit)}`);
  }
  if (whole.degreeHoursAbove >= 0.05)
    add("Above the band", degreeHourWords(whole.degreeHoursAbove, unit));
  if (whole.degreeHoursBelow >= 0.05)
    add("Below the band", degreeHourWords(whole.degreeHoursBelow, unit));
  if (reserveDays !== null && reserveDaysSpan !== null) {
    const span = `${numberWords(reserveDaysSpan.low, 0)} to ${numberWords(reserveDaysSpan.high, 0)}`;
    const remark = `${span}; days at ${limitWords(4, unit)} that would use as much; reckoned, not measured`;
    add("Reserve used", `about ${daysWords(reserveDays)}`, remark);
  }
  if (unseenHours >= 1) add("Not seen", durationWords(unseenHours * HOUR_MS));
  return setFigures(figures);
}

/** The table behind a winter sheet; each month leads to its page. */
export function setMonthTable({ id }: Chamber, { months }: Review, look: Look): Markup {
  const { caption, columns, rows } = tableOfMonths(months, look);
  const headOf = (month: StretchFigures, words: string) => {
    const name = localDay(month.fromMs, look.timezone).slice(0, 7);
    return timedHead(month, words, winterAddress(id, name));
  };
  const linked = rows.map(([name, ...cells], i) => [headOf(months[i]!, name!), ...cells]);
  return setTable(caption, columns, linked);
}
