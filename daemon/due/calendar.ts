import ical, {
  ICalAlarmRelatesTo,
  ICalAlarmType,
  ICalEventBusyStatus,
  ICalEventTransparency,
} from "ical-generator";
import type { Due } from "../../rules/year/due.js";
import type { Site } from "../../shared/site.js";
import { HOUR_MS, SECOND_MS } from "../../shared/time.js";
import { messageIdOf } from "../letters/message-id.js";
import { oneLine } from "../letters/one-line.js";
import { calendarWords } from "../letters/time-words.js";
import { dueCautions, dueDeed, dueHow } from "./due-words.js";
import type { YearReport } from "./gather-due.js";

/** How often a calendar that subscribes should ask again; our choice. */
const ASK_AGAIN_S = (6 * HOUR_MS) / SECOND_MS;
/** When of the day an alarm goes, from its midnight; our choice. */
const ALARM_AFTER_S = (8 * HOUR_MS) / SECOND_MS;

/**
 * What is due as an iCalendar file (RFC 5545): an event of a whole day for each thing, with an
 * alarm on its morning. A thing keeps its UID while its day moves, and one that is late stands on
 * today, so that it is not lost in the past. Events and not to-dos, which few calendars show.
 *
 * @param domain the right side of the UIDs, as that of Message-IDs
 */
export function dueCalendar(
  { due, today }: Pick<YearReport, "due" | "today">,
  site: Pick<Site, "name">,
  domain: string,
  nowMs: number,
): string {
  const calendar = ical({
    name: `${oneLine(site.name, 80)}: what is due`,
    prodId: { company: "Drowse", product: "Drowse", language: "EN" },
    ttl: ASK_AGAIN_S,
  });
  for (const one of due) {
    const isLate = one.on < today;
    const deed = isLate ? `${dueDeed(one)} (since ${calendarWords(one.on)})` : dueDeed(one);
    const event = calendar.createEvent({
      id: uidOf(one, site, domain),
      start: isLate ? today : one.on,
      allDay: true,
      stamp: new Date(nowMs),
      summary: deed,
      description: [dueHow(one), ...dueCautions(one).map((c) => `Take care: ${c}`)].join("\n\n"),
      // A chore of a minute blocks nobody's day.
      transparency: ICalEventTransparency.TRANSPARENT,
      busystatus: ICalEventBusyStatus.FREE,
    });
    event
      .createAlarm({
        type: ICalAlarmType.display,
        triggerAfter: ALARM_AFTER_S,
        description: deed,
      })
      .relatesTo(ICalAlarmRelatesTo.start);
  }
  return calendar.toString();
}

/** RFC 5545, section 3.8.4.7: unique in the world, so the site is in it too. */
function uidOf({ id }: Due, site: Pick<Site, "name">, domain: string): string {
  return messageIdOf(`${site.name}/${id}`, domain).slice(1, -1);
}
