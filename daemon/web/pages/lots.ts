import { html, type Markup } from "../../html.js";
import { type LotReport, reportLots } from "../../journal/lot-report.js";
import { numberWords } from "../../letters/temperature-words.js";
import { calendarWords } from "../../letters/time-words.js";
import { LOTS, lotAddress, NEW_LOT } from "../address.js";
import { setTable } from "../look/set-table.js";
import type { Page } from "../page.js";

/** The lots in store, then those that are over. */
export const LOTS_PAGE: Page = {
  path: LOTS,
  word: "Lots",
  show({ store, config, nowMs }) {
    const reports = reportLots(store, config.site, nowMs);
    const [over, here] = [
      reports.filter(({ course }) => course.overAtMs !== null),
      reports.filter(({ course }) => course.overAtMs === null),
    ];
    const main = html`<h1>Lots</h1>
<p>A lot is cocoons of one harvest and origin. <a href="${NEW_LOT}">Enter a lot</a></p>
${here.length === 0 ? html`<p>No lot is in store.</p>\n` : setLots("Lots in store", here)}${over.length > 0 && html`<h2>Over</h2>\n${setLots("Lots that are over", over)}`}`;
    return { title: "Lots", main };
  },
};

function setLots(caption: string, reports: readonly LotReport[]): Markup {
  const whole = (value: number) => numberWords(value, 0);
  const day = (text: string | null) => (text === null ? "" : calendarWords(text));
  const rows = reports.map(
    ({ lot, profile, chamberId, course, coldFromOn, latestOn, season, remarks }) => [
      html`<a href="${lotAddress(lot.id)}">${lot.id}</a>`,
      profile.name,
      lot.large,
      lot.small,
      course.overAtMs !== null ? "over" : (chamberId ?? "out of the cold"),
      day(coldFromOn),
      whole(season.storedDays),
      whole(season.chillDays),
      season.seenDays > 0 ? whole(season.reserveDays) : "",
      course.overAtMs === null ? day(latestOn) : "",
      remarks.length === 0 ? "" : html`<a href="${lotAddress(lot.id)}">see there</a>`,
    ],
  );
  return setTable(
    caption,
    [
      { head: "Lot" },
      { head: "Species" },
      { head: "Large", kind: "number" },
      { head: "Small", kind: "number" },
      { head: "Where" },
      { head: "Cold since", kind: "long" },
      { head: "Days", kind: "number" },
      { head: "Chill", kind: "number" },
      { head: "Reserve", kind: "number" },
      { head: "Sound until", kind: "long" },
      { head: "To note" },
    ],
    rows,
  );
}
