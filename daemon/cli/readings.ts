import { once } from "node:events";
import { stringify } from "csv-stringify";
import { closest } from "fastest-levenshtein";
import type { Corrector } from "../../sensors/corrector.js";
import type { Quantity } from "../../shared/check.js";
import { KnownError } from "../../shared/errors.js";
import type { Reading } from "../../shared/reading.js";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import { isCocoonSeries, type Site } from "../../shared/site.js";
import { loadConfig } from "../config.js";
import { openStore, type Store } from "../store/store.js";
import { readMoment } from "./moment.js";

type Options = Readonly<{
  probe?: string;
  from?: string;
  to?: string;
  corrected?: boolean;
  json?: boolean;
}>;

const COLUMNS = ["time", "probe", "temperature_c", "humidity_pct"];
/** Which check each value is corrected by; only beside corrected values. */
const CHECK_COLUMNS = ["temperature_check", "humidity_check"];
/** The end of time as far as a date in JavaScript goes. */
const END_OF_TIME_MS = 8.64e15;

/**
 * Write stored readings to stdout, oldest first: as CSV (RFC 4180, the form that `replay` reads),
 * or as one JSON object a line. Streams, so that a whole winter needs no memory.
 */
export async function readings(configFile: string, options: Options): Promise<void> {
  const config = loadConfig(configFile);
  const { site } = config;
  checkProbe(options.probe, site);
  const fromMs = options.from === undefined ? -END_OF_TIME_MS : readMoment(options.from, site);
  const toMs = options.to === undefined ? END_OF_TIME_MS : readMoment(options.to, site);
  const store = openStore(config.store.folder, site, { mode: "look" });
  try {
    const found = choose(store, options.probe, fromMs, toMs);
    const corrector = options.corrected === true ? store.checks.corrector() : null;
    const rows = corrector === null ? found : correctAll(found, corrector);
    const columns = corrector === null ? COLUMNS : [...COLUMNS, ...CHECK_COLUMNS];
    await (options.json === true ? writeJson(rows) : writeCsv(rows, columns));
  } finally {
    store.close();
  }
}

function* choose(store: Store, probe: string | undefined, fromMs: number, toMs: number) {
  if (probe !== undefined) yield* store.readings.between(probe, fromMs, toMs);
  else
    for (const reading of store.readings.allBetween(fromMs, toMs))
      if (!isCocoonSeries(reading.probeId)) yield reading;
}

/** A reading with the ids of the checks that correct it. */
type CorrectedReading = Reading &
  Readonly<{ temperatureCheck?: string | null; humidityCheck?: string | null }>;

function* correctAll(found: Iterable<Reading>, corrector: Corrector): Iterable<CorrectedReading> {
  for (const reading of found) {
    const { probeId, takenAtMs } = reading;
    const check = (quantity: Quantity) =>
      corrector.inForce(probeId, quantity, takenAtMs)?.checkId ?? null;
    const corrected = corrector.correct(reading);
    yield {
      ...corrected,
      temperatureC: rounded(corrected.temperatureC, 3),
      humidityPct: rounded(corrected.humidityPct, 2),
      temperatureCheck: corrected.temperatureC === null ? null : check("temperature"),
      humidityCheck: corrected.humidityPct === null ? null : check("humidity"),
    };
  }
}

/** To the digits in which readings are stored; a sum of two has more. */
function rounded(value: number | null, digits: number): number | null {
  return value === null ? null : Number(value.toFixed(digits));
}

function checkProbe(probe: string | undefined, site: Site): void {
  const ids = site.probes.map(({ id }) => id);
  if (probe === undefined || ids.includes(probe)) return;
  const nearest = ids.length === 0 ? "there is none yet" : `nearest is ${closest(probe, ids)}`;
  throw new KnownError("WRONG_USE", `no probe ${probe} in the config; ${nearest}`);
}

async function writeCsv(
  found: Iterable<CorrectedReading>,
  columns: readonly string[],
): Promise<void> {
  // RFC 4180, section 2: lines end with CRLF.
  const csv = stringify({ header: true, columns: [...columns], record_delimiter: "windows" });
  csv.pipe(process.stdout);
  for (const { takenAtMs, probeId, temperatureC, humidityPct, ...checks } of found) {
    const { temperatureCheck, humidityCheck } = checks;
    const row = [formatRfc3339(takenAtMs), probeId, temperatureC, humidityPct];
    if (temperatureCheck !== undefined) row.push(temperatureCheck, humidityCheck ?? null);
    if (!csv.write(row)) await once(csv, "drain");
  }
  csv.end();
  await once(csv, "end");
}

async function writeJson(found: Iterable<CorrectedReading>): Promise<void> {
  for (const { takenAtMs, ...rest } of found) {
    const line = `${JSON.stringify({ at: formatRfc3339(takenAtMs), ...rest })}\n`;
    if (!process.stdout.write(line)) await once(process.stdout, "drain");
  }
}
