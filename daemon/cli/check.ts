import { closest } from "fastest-levenshtein";
import { KnownError } from "../../shared/errors.js";
import { certificateHtml, certificateText } from "../checks/certificate.js";
import { type HistoryItem, historyOf, showHistory } from "../checks/history.js";
import { instructionsFor, setInstructions } from "../checks/instructions.js";
import { makeCheck, stampOf } from "../checks/make-check.js";
import { readPairsFile } from "../checks/pairs-file.js";
import { type CheckEntry, type CheckMade, findCheck, standingChecks } from "../checks/record.js";
import type { Clock } from "../clock.js";
import { type Config, loadConfig } from "../config.js";
import { siteClock } from "../rehearsal/fast-clock.js";
import { openStore, type Store } from "../store/store.js";
import { type Asker, openAsker } from "./check/asker.js";
import { type CheckOptions, findProbe, wrongUse } from "./check/options.js";
import { type Gathered, pairsLive, pairsOfFile } from "./check/pairs.js";
import { type Planned, planCheck } from "./check/plan.js";
import {
  askHoldsFrom,
  awaitTakeIn,
  jsonOf,
  readHoldsFrom,
  showResult,
  showTakenIn,
} from "./check/result.js";

type Desk = Readonly<{ config: Config; store: Store; clock: Clock; options: CheckOptions }>;

/**
 * Check a probe against a reference, or look at what checks there are.
 *
 * Asks only where somebody sits at a terminal; else the options say it all.
 *
 * @throws {KnownError} CHECK_REFUSED, CHECK_UNSTEADY, CHECK_UNKNOWN, PAIRS_FAULTY or WRONG_USE
 */
export async function check(configFile: string, options: CheckOptions): Promise<void> {
  if (options.how !== undefined) {
    print(`${setInstructions(instructionsFor(howOf(options.how)))}\n`);
    return;
  }
  const config = loadConfig(configFile);
  const store = openStore(config.store.folder, config.site, { mode: "look" });
  const desk: Desk = { config, store, clock: siteClock(config.store.folder), options };
  try {
    if (options.history === true) printHistory(desk);
    else if (options.certificate !== undefined) printCertificate(desk, options.certificate);
    else if (options.withdraw !== undefined) await withdraw(desk, options.withdraw);
    else await makeOne(desk);
  } finally {
    store.close();
  }
}

function print(text: string): void {
  process.stdout.write(text);
}

const say = (words: string): void => void process.stderr.write(`drowse: ${words}\n`);

function howOf(text: string): "ice" | "salt" | "instrument" {
  if (text === "ice" || text === "salt" || text === "instrument") return text;
  throw wrongUse(`how "${text}", expected ice, salt or instrument`);
}

async function makeOne(desk: Desk): Promise<void> {
  const { config, store, clock, options } = desk;
  const isAsked =
    process.stdin.isTTY === true && options.json !== true && options.pairs === undefined;
  const asker = isAsked ? openAsker({ input: process.stdin, output: process.stderr }) : null;
  try {
    const file = options.pairs === undefined ? null : await readPairsFile(options.pairs);
    const planned = await planCheck(config, options, asker, file?.quantity ?? null);
    const gathered =
      file === null
        ? await pairsLive(planned, {
            config,
            store,
            clock,
            options,
            asker,
            input: process.stdin,
            say,
          })
        : pairsOfFile(planned, file, options.pairs!);
    const made = makeOf(planned, gathered, desk);
    const entry = await decide(made, desk, asker);
    if (entry === null) {
      print("It is thrown away.\n");
      return;
    }
    store.checks.add(entry);
    const taken = await awaitTakeIn(store, config);
    if (options.json === true) {
      print(`${JSON.stringify({ check: jsonOf(entry), ...taken })}\n`);
      return;
    }
    if (asker === null) print(showResult(entry, config));
    print(`${showTakenIn(taken)}Certificate: drowse check --certificate ${entry.id}\n`);
  } finally {
    asker?.close();
  }
}

function makeOf(planned: Planned, { reference, pairs, steps }: Gathered, desk: Desk): CheckMade {
  const { config, store, clock, options } = desk;
  const { probe, quantity } = planned;
  const madeAtMs = clock.nowMs();
  const inForce = store.checks.corrector().inForce(probe.id, quantity, madeAtMs);
  return makeCheck({ ...planned, probeId: probe.id, reference }, pairs, steps, {
    madeAtMs,
    timezone: config.site.timezone,
    before: inForce?.correction ?? null,
    checkEveryMonths: config.care.find(({ probeId }) => probeId === probe.id)!.checkEveryMonths,
    holdsFromMs: readHoldsFrom(options, config.site, madeAtMs),
  });
}

/** @returns null where the keeper throws it away */
async function decide(made: CheckMade, desk: Desk, asker: Asker | null): Promise<CheckMade | null> {
  const { config, options } = desk;
  if (asker === null) return made;
  asker.say(`\n${showResult(made, config)}`);
  if (options.from !== undefined || options.recordOnly === true) return made;
  const holdsFromMs = await askHoldsFrom(asker, config.site, made.madeAtMs);
  return holdsFromMs === undefined ? null : { ...made, holdsFromMs };
}

function printHistory({ config, store, options }: Desk): void {
  const { probe } = options;
  if (probe !== undefined) findProbe(config, probe);
  const items = historyOf(store.checks.entries(), probe ?? null);
  if (options.json !== true)
    print(showHistory(items, config.site.timezone, config.temperatureUnit));
  else for (const item of items) print(`${JSON.stringify(jsonOfItem(item))}\n`);
}

function jsonOfItem({ check, withdrawnAtMs, drift }: HistoryItem): object {
  const withdrawnAt = withdrawnAtMs === null ? null : new Date(withdrawnAtMs).toISOString();
  return { ...jsonOf(check), withdrawnAt, drift };
}

function printCertificate({ config, store, options }: Desk, which: string | true): void {
  const made = checkOf(store.checks.entries(), which, options.probe);
  const set = options.html === true ? certificateHtml : certificateText;
  if (options.json === true) print(`${JSON.stringify(jsonOf(made))}\n`);
  else print(set(made, config.site, config.temperatureUnit));
}

function checkOf(
  entries: readonly CheckEntry[],
  which: string | true,
  probeId: string | undefined,
): CheckMade {
  if (which === true) {
    const made = standingChecks(entries).filter((one) => (probeId ?? one.probeId) === one.probeId);
    const newest = made.at(-1);
    if (newest !== undefined) return newest;
    throw new KnownError(
      "CHECK_UNKNOWN",
      `no check${probeId === undefined ? "" : ` of ${probeId}`} yet`,
    );
  }
  const made = findCheck(entries, which);
  if (made !== null) return made;
  const ids = entries.filter(({ kind }) => kind === "check").map(({ id }) => id);
  const nearest = ids.length === 0 ? "there is none yet" : `nearest is ${closest(which, ids)}`;
  throw new KnownError("CHECK_UNKNOWN", `no check ${which}; ${nearest}`);
}

async function withdraw({ config, store, clock, options }: Desk, checkId: string): Promise<void> {
  const entries = store.checks.entries();
  const made = checkOf(entries, checkId, undefined);
  if (entries.some((entry) => entry.kind === "withdrawal" && entry.checkId === made.id))
    throw new KnownError("CHECK_REFUSED", `check ${made.id} is withdrawn already`);
  const madeAtMs = clock.nowMs();
  const { by = null, note = null } = options;
  const id = `${made.id}.withdrawn.${stampOf(madeAtMs)}`;
  const entry: CheckEntry = { kind: "withdrawal", id, madeAtMs, checkId: made.id, by, note };
  store.checks.add(entry);
  const taken = await awaitTakeIn(store, config);
  if (options.json === true) print(`${JSON.stringify({ check: jsonOf(entry), ...taken })}\n`);
  else print(showTakenIn(taken));
}
