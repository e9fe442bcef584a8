import { closest } from "fastest-levenshtein";
import { KnownError } from "../../shared/errors.js";
import { loadConfig } from "../config.js";
import { gatherYear } from "../due/gather-due.js";
import { siteClock } from "../rehearsal/fast-clock.js";
import { openStore, type Store } from "../store/store.js";
import { yearJson } from "./due.js";
import { showStanding } from "./now/show.js";
import { showYear } from "./now/show-year.js";
import { gatherStanding } from "./now/standing.js";

type Options = Readonly<{ json?: boolean; acknowledge?: string | true }>;

/**
 * Print how everything stands, and acknowledge excursions first where asked to.
 *
 * @throws {KnownError} EXCURSION_UNKNOWN when there is none with the id given
 */
export async function now(configFile: string, options: Options): Promise<void> {
  const config = loadConfig(configFile);
  const { site, store: place, temperatureUnit } = config;
  const store = openStore(place.folder, site, { mode: "look" });
  try {
    const atMs = siteClock(place.folder).nowMs();
    const acknowledged = acknowledge(store, options.acknowledge, atMs);
    const standing = gatherStanding(store, site, atMs);
    const year = gatherYear(store, config, atMs);
    if (options.json === true) {
      process.stdout.write(`${JSON.stringify({ ...standing, ...yearJson(year), acknowledged })}\n`);
      return;
    }
    if (options.acknowledge !== undefined)
      process.stdout.write(`Acknowledged: ${acknowledged.join(", ") || "nothing was to be"}\n\n`);
    process.stdout.write(showStanding(standing, site, temperatureUnit));
    if (year.lots.length > 0) process.stdout.write(`\n${showYear(year)}\n`);
  } finally {
    store.close();
  }
}

/** @returns the ids that were acknowledged now */
function acknowledge(store: Store, which: string | true | undefined, atMs: number): string[] {
  if (which === undefined) return [];
  const open = store.excursions.open();
  if (which === true)
    return open
      .filter(({ urgency, acknowledgedAtMs }) => urgency === "rush" && acknowledgedAtMs === null)
      .filter(({ id }) => store.excursions.acknowledge(id, atMs))
      .map(({ id }) => id);
  if (store.excursions.get(which) === null) {
    const ids = open.map(({ id }) => id);
    const hint = ids.length === 0 ? "none is open" : `nearest is ${closest(which, ids)}`;
    throw new KnownError("EXCURSION_UNKNOWN", `no excursion ${which}; ${hint}`);
  }
  return store.excursions.acknowledge(which, atMs) ? [which] : [];
}
