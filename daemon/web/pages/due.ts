import type { Due } from "../../../rules/year/due.js";
import type { CalendarDay } from "../../../shared/calendar-day.js";
import {
  dueCautions,
  dueDeed,
  dueWay,
  dueWhen,
  dueWithin,
  releaseSection,
} from "../../due/due-words.js";
import { gatherYear } from "../../due/gather-due.js";
import { html, type Markup } from "../../html.js";
import { calendarAddress, DUE, deedAddress, LOTS, NEW_LOT } from "../address.js";
import { calendarKey, renewCalendarKey } from "../calendar-key.js";
import { setDeed } from "../form.js";
import { setPoints, setSection } from "../look/set-section.js";
import type { Asking, Page } from "../page.js";

/** What is far off is not due; a season has no more in it. */
const WITHIN_DAYS = 120;
/** What can be done now comes with what to take care of. */
const SOON_DAYS = 7;

/** What is due, whether lots may be let go, and where a calendar can ask for the same. */
export const DUE_PAGE: Page = {
  path: DUE,
  word: "Due",
  show(asking) {
    const { store, config, nowMs } = asking;
    const year = gatherYear(store, config, nowMs);
    const due = dueWithin(year, WITHIN_DAYS);
    const cautions = [...new Set(dueWithin(year, SOON_DAYS).flatMap(dueCautions))];
    const { release } = year;
    const main = html`<h1>What is due</h1>
${
  due.length === 0
    ? html`<p>No lot is in the cold, so nothing falls due for one. <a href="${LOTS}">Look at the lots</a>, or <a href="${NEW_LOT}">enter one</a>.</p>\n`
    : html`<ul class="letters">
${due.map((one) => setDue(one, year.today))}</ul>
`
}${cautions.length > 0 && html`<h2>Take care</h2>\n${setPoints(cautions)}`}${release && setSection(releaseSection(release, config.temperatureUnit, config.release.warmC))}${setCalendar(asking)}`;
    return { title: "What is due", main };
  },
  take({ store }) {
    renewCalendarKey(store);
    return { goTo: `${DUE}#calendar` };
  },
};

/** One thing that is due, with the way to write it down. */
function setDue(due: Due, today: CalendarDay): Markup {
  const way = writeAddress(due);
  return html`<li><strong>${dueDeed(due)}</strong>, ${dueWhen(due, today)}<br>
<span class="quiet small">${dueWay(due)}</span>${way && html`<br><a class="touch" href="${way}">Write it down</a>`}</li>
`;
}

function writeAddress(due: Due): string | null {
  switch (due.kind) {
    case "damp":
      return deedAddress("damped");
    case "inspect":
      return deedAddress("inspected");
    case "weigh":
      return deedAddress("weighed", { lot: due.lotId });
    case "release":
      return deedAddress("released", { lot: due.lotId });
    default:
      return null;
  }
}

function setCalendar({ store }: Asking): Markup {
  const address = calendarAddress(calendarKey(store));
  return html`<h2 id="calendar">In your calendar</h2>
<p>A calendar that subscribes to this address shows what is due, with an alarm on the morning of each day, and asks again every few hours: <a href="${address}">${address}</a></p>
<p class="quiet small">Put this page's own address before it. Whoever knows the address can read what is due, and nothing else. If it went astray, make a new one; calendars then have to subscribe again.</p>
${setDeed(DUE, {}, "Make a new address")}`;
}
