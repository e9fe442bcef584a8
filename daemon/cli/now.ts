import { closest } from "fastest-levenshtein";
import { type ChamberFigures, seasonOf } from "../../rules/season.js";
import { KnownError } from "../../shared/errors.js";
import { type Config, loadConfig } from "../config.js";
import { gatherYear } from "../due/gather-due.js";
import { judgedSoFar } from "../intake/judged-so-far.js";
import { gatherProbes, lastWeek } from "../probes/standing.js";
import { siteClock } from "../rehearsal/fast-clock.js";
import { openStore, type Store } from "../store/store.js";
import { yearJson } from "./due.js";
import { type Carry, carryJson, carryLines, workOutCarry } from "./now/carry.js";
import { showStanding } from "./now/show.js";
import { showSeason } from "./now/show-season.js";
import { showYear } from "./now/show-year.js";
import { gatherStanding, type Standing } from "./now/standing.js";

type Options = Readonly<{ json?: boolean; acknowledge?: string | true; carry?: string | true }>;

/**
 * Print how everything stands, and acknowledge excursions first where asked to.
 *
 * @throws {KnownError} EXCURSION_UNKNOWN when there is none with the id given, WRONG_USE for a room
 *   that nobody knows
 */
export async function now(configFile: string, options: Options): Promise<void> {
  const config = loadConfig(configFile);
  const { site, store: place, temperatureUnit } = config;
  const store = openStore(place.folder, site, { mode: "look" });
  try {
    const atMs = siteClock(place.folder).nowMs();
    const acknowledged = acknowledge(store, options.acknowledge, atMs);
    const judged = judgedSoFar(store, site);
    const probes = gatherProbes(store, site, atMs, lastWeek(atMs));
    const standing = gatherStanding(store, site, atMs, judged, probes);
    const season = judged === null ? [] : seasonOf(judged, site);
    const carries = carry(store, config, options.carry, season, standing);
    const year = gatherYear(store, config, atMs);
    if (options.json === true) {
      const carried = carries === null ? {} : { carry: carryJson(carries) };
      const all = { ...standing, ...yearJson(year), acknowledged, ...carried };
      process.stdout.write(`${JSON.stringify(all)}\n`);
      return;
    }
    if (carries !== null)
      process.stdout.write(`${carryLines(carries, temperatureUnit).join("\n")}\n\n`);
    if (options.acknowledge !== undefined)
      process.stdout.write(`Acknowledged: ${acknowledged.join(", ") || "nothing was to be"}\n\n`);
    process.stdout.write(showStanding(standing, probes, site, temperatureUnit));
    const winter = showSeason(season, site, temperatureUnit);
    if (winter !== "") process.stdout.write(`\n${winter}\n`);
    if (year.lots.length > 0 || year.due.length > 0) process.stdout.write(`\n${showYear(year)}\n`);
  } finally {
    store.close();
  }
}

/** How long a cold box must stay shut in a warm room; null where nobody asked. */
function carry(
  store: Store,
  { site, temperatureUnit }: Config,
  asked: string | true | undefined,
  season: readonly ChamberFigures[],
  { chambers }: Standing,
): Carry[] | null {
  if (asked === undefined) return null;
  const known = season.map((figures) => {
    const cocoonC = chambers.find(({ id }) => id === figures.chamberId)?.cocoonC ?? null;
    return { ...figures, cocoonC };
  });
  return workOutCarry(asked, site, store, known, temperatureUnit);
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
