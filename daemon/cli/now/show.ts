import type { Site } from "../../../shared/site.js";
import {
  numberWords,
  type TemperatureUnit,
  temperatureWords,
} from "../../letters/temperature-words.js";
import { durationWords, momentWords } from "../../letters/time-words.js";
import type { ProbeStanding } from "../../probes/standing.js";
import { layTable } from "../table.js";
import { showProbes } from "./show-probes.js";
import type { Standing } from "./standing.js";

const NOT_KNOWN = "not known";

/** A standing as a page of text for the keeper. */
export function showStanding(
  standing: Standing,
  probes: readonly ProbeStanding[],
  site: Pick<Site, "timezone">,
  unit: TemperatureUnit,
): string {
  const moment = (at: string) => momentWords(Date.parse(at), site.timezone);
  const since = (at: string) => durationWords(Date.parse(standing.at) - Date.parse(at));
  const degrees = (value: number | null) =>
    value === null ? NOT_KNOWN : temperatureWords(value, unit);
  const percent = (value: number | null) => (value === null ? "" : `${numberWords(value, 0)} %RH`);
  const parts = [`${standing.site}, ${moment(standing.at)}`];

  parts.push(
    layTable(
      ["chamber", "cocoons", "air", ""],
      standing.chambers.map((c) => [
        c.id,
        degrees(c.cocoonC),
        degrees(c.airC),
        percent(c.humidityPct),
      ]),
    ),
  );
  parts.push(...showDark(standing, since, degrees));
  parts.push(showOpen(standing, since));
  parts.push(showProbes(probes, { unit, timezone: site.timezone, nowMs: Date.parse(standing.at) }));
  parts.push(showMail(standing), showCopy(standing, since));
  if (standing.clock !== null) parts.push(standing.clock);
  if (standing.unwritable !== null)
    parts.push(
      `Nothing can be stored, so what is said above may be old. The store ${standing.unwritable}.`,
    );
  parts.push(...showTroubles(standing, since), showUnread(standing));
  return `${parts.join("\n\n")}\n`;
}

function showDark(
  { chambers }: Standing,
  since: (at: string) => string,
  degrees: (value: number) => string,
): string[] {
  return chambers.flatMap(({ id, dark }) =>
    dark === null
      ? []
      : [
          `Nobody has seen the cocoons in ${id} for ${since(dark.sinceAt)}. With the door shut they can be ${degrees(dark.warmestC)} by now at the most.`,
        ],
  );
}

function showOpen(standing: Standing, since: (at: string) => string): string {
  if (standing.open.length === 0) return "Nothing is open.";
  const rows = standing.open.map((e) => [
    e.cause,
    e.chamber ?? e.probe ?? "",
    e.urgency,
    `for ${since(e.startedAt)}`,
    e.acknowledgedAt === null ? "not acknowledged" : "acknowledged",
    e.id,
  ]);
  return layTable(["open", "where", "urgency", "", "", "excursion"], rows);
}

function showMail({ mail }: Standing): string {
  if (mail.waiting === 0 && mail.givenUp === 0) return "Letters: all delivered.";
  const error = mail.lastError === null ? "" : `\n  ${mail.lastError}`;
  return `Letters: ${mail.waiting} still waiting to be sent, ${mail.givenUp} given up.${error}`;
}

function showCopy({ copy }: Standing, since: (at: string) => string): string {
  const last = copy.at === null ? "none yet" : `the last one ${since(copy.at)} ago, ${copy.file}`;
  return `Copies of the store: ${last}.${copy.trouble === null ? "" : `\n  ${copy.trouble}`}`;
}

function showTroubles({ troubles }: Standing, since: (at: string) => string): string[] {
  return troubles.map(
    ({ part, since: at, said }) => `The ${part} does not work, for ${since(at)}:\n  ${said}`,
  );
}

function showUnread({ unread }: Standing): string {
  const counts = Object.entries(unread).map(([reason, count]) => `${reason} ${count}`);
  if (counts.length === 0) return "Messages: every one was read.";
  return `Messages not read, or only in part: ${counts.join(", ")}; see drowse hear`;
}
