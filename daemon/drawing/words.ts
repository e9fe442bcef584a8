import type { Cost } from "../../shared/excursion.js";
import { MINUTE_MS } from "../../shared/time.js";
import { adviceFor } from "../letters/cause-advice.js";
import { oneLine } from "../letters/one-line.js";
import {
  degreeHourWords,
  numberWords,
  type TemperatureUnit,
} from "../letters/temperature-words.js";
import type { Look } from "./look.js";
import type { ExcursionMark } from "./material.js";

/*
 * Words on drawings. A process serves one site, so that few formats are ever made.
 */

const formats = new Map<string, Intl.DateTimeFormat>();
const MOST_FORMATS = 64;

function format(atMs: number, timezone: string, fields: Intl.DateTimeFormatOptions): string {
  const key = `${timezone} ${JSON.stringify(fields)}`;
  let known = formats.get(key);
  if (known === undefined) {
    if (formats.size >= MOST_FORMATS) formats.clear();
    known = new Intl.DateTimeFormat("en-GB", { ...fields, timeZone: timezone });
    formats.set(key, known);
  }
  return known.format(atMs);
}

type Clocked = Pick<Look, "timezone" | "hourCycle">;

/** "November 2026". */
export const monthWords = (atMs: number, { timezone }: Clocked): string =>
  format(atMs, timezone, { month: "long", year: "numeric" });

/** "Wed 25 Nov". */
export const shortDayWords = (atMs: number, { timezone }: Clocked): string =>
  format(atMs, timezone, { weekday: "short", day: "numeric", month: "short" }).replace(",", "");

/** Day of the month, "25". */
export const dayNumber = (atMs: number, { timezone }: Clocked): string =>
  format(atMs, timezone, { day: "numeric" });

/** "03:15", or "3:15 am". */
export const clock = (atMs: number, { timezone, hourCycle }: Clocked): string =>
  hourCycle === "h23"
    ? format(atMs, timezone, { hour: "2-digit", minute: "2-digit", hourCycle: "h23" })
    : format(atMs, timezone, { hour: "numeric", minute: "2-digit", hourCycle: "h12" });

/** "Wed 25 Nov, 03:15". */
export const shortMomentWords = (atMs: number, look: Clocked): string =>
  `${shortDayWords(atMs, look)}, ${clock(atMs, look)}`;

/** How long something lasted, short enough for a drawing: "25 min", "3 h 39 min", "2 d 4 h". */
function shortDuration(durationMs: number): string {
  const minutes = Math.max(0, Math.round(durationMs / MINUTE_MS));
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  if (hours === 0) return `${minutes} min`;
  if (hours < 48) return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
  return hours % 24 === 0 ? `${hours / 24} d` : `${Math.floor(hours / 24)} d ${hours % 24} h`;
}

/** What an excursion took, in a few words; empty where nothing shows. */
function costWords(cost: Cost, unit: TemperatureUnit): string {
  return [
    cost.degreeHoursAbove >= 0.05 && `${degreeHourWords(cost.degreeHoursAbove, unit)} above`,
    cost.degreeHoursBelow >= 0.05 && `${degreeHourWords(cost.degreeHoursBelow, unit)} below`,
    cost.reserveDays >= 0.05 && `reserve ${numberWords(cost.reserveDays, 1)} d`,
    cost.wetHours !== null && cost.wetHours >= 0.5 && `${numberWords(cost.wetHours, 0)} h wet`,
    cost.mouldIndex !== null &&
      cost.mouldIndex >= 0.1 &&
      `mould index ${numberWords(cost.mouldIndex, 1)}`,
  ]
    .filter((words) => words !== false)
    .join(", ");
}

/** "door ajar, 2 h 10 min: 3.4 °C·h above, reserve 0.2 d". */
export function excursionWords(mark: ExcursionMark, unit: TemperatureUnit): string {
  const { cause, probeId, startedAtMs, endedAtMs, cost } = mark;
  const lasted = endedAtMs === null ? "not over" : shortDuration(endedAtMs - startedAtMs);
  const took = costWords(cost, unit);
  const name = `${adviceFor(cause).name}${probeId === null ? "" : ` (${oneLine(probeId, 30)})`}`;
  return `${name}, ${lasted}${took === "" ? "" : `: ${took}`}`;
}
