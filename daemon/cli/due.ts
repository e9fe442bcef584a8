import { writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { KnownError } from "../../shared/errors.js";
import { loadConfig } from "../config.js";
import { dueCalendar } from "../due/calendar.js";
import { dueCautions, dueDeed, dueHow, dueSection, releaseSection } from "../due/due-words.js";
import { gatherYear, type YearReport } from "../due/gather-due.js";
import { mailDomainOf } from "../letters/message-id.js";
import { setTextSection } from "../letters/set-text.js";
import { siteClock } from "../rehearsal/fast-clock.js";
import { openStore } from "../store/store.js";

type Options = Readonly<{ json?: boolean; ics?: string; within: number }>;

/** Print what is due and whether lots may be let go, or write it as a calendar. */
export async function due(configFile: string, options: Options): Promise<void> {
  const config = loadConfig(configFile, { readSecrets: false });
  const { site, store: place, mail, temperatureUnit, release } = config;
  const store = openStore(place.folder, site, { mode: "look" });
  try {
    const nowMs = siteClock(place.folder).nowMs();
    const year = gatherYear(store, config, nowMs);
    if (options.ics !== undefined) {
      const text = dueCalendar(year, site, mailDomainOf(mail?.from ?? null), nowMs);
      writeCalendar(options.ics, text);
    } else if (options.json === true) process.stdout.write(`${JSON.stringify(yearJson(year))}\n`);
    else {
      const parts = [
        dueSection(year, options.within) ?? nothingDue(year, options.within),
        ...(year.release ? [releaseSection(year.release, temperatureUnit, release.warmC)] : []),
      ];
      process.stdout.write(`${parts.map(setTextSection).join("\n\n")}\n`);
    }
  } finally {
    store.close();
  }
}

function nothingDue({ lots }: YearReport, within: number) {
  const sentence = lots.some(({ chamberId }) => chamberId !== null)
    ? `Nothing falls due within ${within} days.`
    : "No lot is in the cold, so nothing falls due for one. Enter one with drowse lot add.";
  return { heading: "What is due", sentences: [sentence], figures: [] };
}

function writeCalendar(file: string, text: string): void {
  if (file === "-") {
    process.stdout.write(text);
    return;
  }
  try {
    writeFileSync(file, text);
  } catch (cause) {
    const reason = (cause as Error).message;
    throw new KnownError("WRONG_USE", `writing ${file}: ${reason}; name a file to write`, {
      cause,
    });
  }
  process.stdout.write(`The calendar is in ${resolve(file)}\n`);
}

/** The year for a program. Days of the calendar; temperatures in °C. */
export function yearJson({ today, due: items, release }: YearReport): object {
  return {
    today,
    due: items.map((one) => ({
      ...one,
      isLate: one.on < today,
      deed: dueDeed(one),
      how: dueHow(one),
      cautions: dueCautions(one),
    })),
    release,
  };
}
