import { closest } from "fastest-levenshtein";
import { KnownError } from "../../shared/errors.js";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import type { Chamber, Site } from "../../shared/site.js";
import { loadConfig } from "../config.js";
import { siteClock } from "../rehearsal/fast-clock.js";
import { gatherSeason, type Season } from "../season/season.js";
import { openStore, type Store } from "../store/store.js";
import { chooseSpans, type SeasonDates } from "./winter/choose-spans.js";
import { seasonsCsv } from "./winter/show-csv.js";
import { reviewPage } from "./winter/show-html.js";
import { showBeside, showSeason } from "./winter/show-text.js";

type Options = SeasonDates &
  Readonly<{ chamber?: string; html?: boolean; csv?: boolean; json?: boolean }>;

/**
 * Print the review of a season, or of two side by side: as text, HTML, CSV or JSON.
 *
 * @throws {KnownError} WRONG_USE on an unknown chamber, on dates that are none, or where there is
 *   no other season to put beside
 */
export async function winter(configFile: string, options: Options): Promise<void> {
  const { site, store: place, temperatureUnit } = loadConfig(configFile, { readSecrets: false });
  const chambers = chooseChambers(site, options.chamber);
  const store = openStore(place.folder, site, { mode: "look" });
  try {
    const atMs = siteClock(place.folder).nowMs();
    const groups = chambers
      .map((chamber) => gatherGroup(store, site, chamber, options, atMs))
      .filter((group) => group.length > 0);
    const look = { timezone: site.timezone, unit: temperatureUnit, hourCycle: "h23" } as const;
    const text = (): string =>
      groups.length === 0
        ? "Nothing was measured in that time.\n"
        : `${groups.map((group) => (group.length > 1 ? showBeside(group, look) : showSeason(group[0]!, look))).join("\n\n\n")}\n`;
    if (options.json === true) process.stdout.write(`${JSON.stringify(factsOf(site, groups))}\n`);
    else if (options.csv === true) process.stdout.write(seasonsCsv(groups.flat()));
    else if (options.html === true) process.stdout.write(reviewPage(site.name, groups, look, atMs));
    else process.stdout.write(text());
  } finally {
    store.close();
  }
}

function chooseChambers({ chambers }: Site, wanted: string | undefined): readonly Chamber[] {
  if (wanted === undefined) return chambers;
  const found = chambers.filter(({ id }) => id === wanted);
  if (found.length > 0) return found;
  const ids = chambers.map(({ id }) => id);
  const nearest = ids.length === 0 ? "there is none" : `nearest is ${closest(wanted, ids)}`;
  throw new KnownError("WRONG_USE", `no chamber ${wanted} in the config; ${nearest}`);
}

/** The season asked for, and the one beside it; none of which nothing is known. */
function gatherGroup(
  store: Store,
  site: Site,
  chamber: Chamber,
  dates: SeasonDates,
  nowMs: number,
): Season[] {
  return chooseSpans(store, site, chamber, dates)
    .map((span) => gatherSeason(store, site, chamber, span, nowMs))
    .filter(({ review }) => review.whole.seenHours > 0);
}

function factsOf({ name }: Site, groups: readonly (readonly Season[])[]) {
  return {
    site: name,
    seasons: groups.flat().map(({ chamber, material, review, judged }) => ({
      chamber: chamber.id,
      from: formatRfc3339(material.watched.fromMs),
      to: formatRfc3339(material.watched.toMs),
      ...review,
      judged,
      excursions: material.excursions,
      annotations: material.annotations,
    })),
  };
}
