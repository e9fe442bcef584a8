import { type Correction, correctionAt } from "../../../shared/check.js";
import { formatRfc3339 } from "../../../shared/rfc3339.js";
import { SECOND_MS } from "../../../shared/time.js";
import type { CheckEntry, CheckMade } from "../../checks/record.js";
import { revisionLetterId } from "../../checks/revision-letter.js";
import {
  correctionWords,
  deviationWords,
  differenceWords,
  verdictWords,
} from "../../checks/words.js";
import type { Config } from "../../config.js";
import { dateWords } from "../../letters/time-words.js";
import { isKept } from "../../store/keep-lock.js";
import type { Store } from "../../store/store.js";
import { readMoment } from "../moment.js";
import type { Asker } from "./asker.js";
import { type CheckOptions, wrongUse } from "./options.js";

/** What a check found, in a few lines. */
export function showResult(check: CheckMade, { site, temperatureUnit: unit }: Config): string {
  const { quantity, result, tolerance, dueAtMs } = check;
  const saying = { quantity, unit };
  const { asFound, asLeft, budget, correction, residualSd } = result;
  const plusMinus = (value: number) => `± ${differenceWords(value, saying)}`;
  const freedom = budget.degreesOfFreedom;
  const few =
    freedom !== null && freedom < 10
      ? "\n  k = 2 covers less than 95 % here: more pairs would make it surer"
      : "";
  return `${check.probeId}, ${quantity}, ${check.pairs.length} pairs
  as found: ${deviationWords(asFound.deviation, saying)}, ${plusMinus(asFound.expanded)}; ${verdictWords(asFound.verdict)} of ${plusMinus(tolerance)}
  correction: ${correctionWords(correction, saying)}, ${plusMinus(budget.expanded)} (k = 2), scatter ${differenceWords(residualSd, saying)}${few}
  as corrected: ${verdictWords(asLeft.verdict)}
  due again: ${dateWords(dueAtMs, site.timezone)}
`;
}

/** From when on a check holds; null for the record only. */
export function readHoldsFrom(
  { from, recordOnly }: CheckOptions,
  site: Config["site"],
  nowMs: number,
): number | null {
  if (recordOnly === true && from !== undefined)
    throw wrongUse("--from and --record-only exclude each other");
  if (recordOnly === true) return null;
  if (from === undefined) return nowMs;
  const fromMs = readMoment(from, site);
  if (fromMs > nowMs) throw wrongUse(`--from ${from} is ahead, expected a day that has begun`);
  return fromMs;
}

/** Ask from when on a check is to hold. @returns undefined to throw it away */
export async function askHoldsFrom(
  asker: Asker,
  site: Config["site"],
  nowMs: number,
): Promise<number | null | undefined> {
  const chosen = await asker.choose("Its number", [
    ["correct the probe from now on", "now"],
    ["correct it back to a date: what was judged since is judged anew", "date"],
    ["keep it for the record, and correct nothing", "record"],
    ["throw it away", "nothing"],
  ] as const);
  if (chosen === "now") return nowMs;
  if (chosen === "record") return null;
  if (chosen === "nothing") return undefined;
  return asker.askFor("From which day, for example 2026-01-11", (answer) => {
    try {
      const fromMs = readMoment(answer, site);
      return fromMs <= nowMs ? fromMs : null;
    } catch {
      return null;
    }
  });
}

/** How long `keep` may take to judge a winter anew before it is left to tell by letter. */
const TAKE_IN_WAIT_MS = 120 * SECOND_MS;
const LOOK_EACH_MS = 250;

/** What became of an entry that was kept. */
export type TakenIn = Readonly<{
  takenIn: boolean;
  /** The letters that tell what changed, as text. */
  changes: readonly string[];
}>;

/** Wait until the process that keeps has taken in what was just added, and read what changed. */
export async function awaitTakeIn(store: Store, config: Config): Promise<TakenIn> {
  const entryNo = store.checks.newestNo();
  const deadlineMs = performance.now() + TAKE_IN_WAIT_MS;
  while (isKept(config.store.folder) && store.checks.takenNo() < entryNo) {
    if (performance.now() > deadlineMs) break;
    await new Promise((resolve) => setTimeout(resolve, LOOK_EACH_MS));
  }
  const ids = config.site.chambers.map(({ id }) => revisionLetterId(id, entryNo));
  const changes = store.letters
    .between(0, Number.MAX_SAFE_INTEGER)
    .filter(({ letter }) => ids.includes(letter.id))
    .map(({ letter }) => letter.text);
  return { takenIn: store.checks.takenNo() >= entryNo, changes };
}

/** What follows from an entry, for whoever reads text. */
export function showTakenIn({ takenIn, changes }: TakenIn): string {
  if (!takenIn)
    return "It is kept. drowse keep takes it in, and judges anew what it shifts, when it runs next.\n";
  return changes.length === 0
    ? "It is kept, and holds.\n"
    : `It is kept, and holds.\n\n${changes.join("\n")}`;
}

/** An entry as programs read it; times are RFC 3339. */
export function jsonOf(entry: CheckEntry): object {
  const madeAt = formatRfc3339(entry.madeAtMs);
  if (entry.kind === "withdrawal") {
    const { madeAtMs: _, ...rest } = entry;
    return { ...rest, madeAt };
  }
  const { madeAtMs: _, holdsFromMs, dueAtMs, pairs, ...rest } = entry;
  return {
    ...rest,
    madeAt,
    holdsFrom: holdsFromMs === null ? null : formatRfc3339(holdsFromMs),
    due: formatRfc3339(dueAtMs),
    pairs: pairs.map(({ atMs, ...pair }) => ({
      at: atMs === null ? null : formatRfc3339(atMs),
      ...pair,
    })),
    added: ends(entry.result.correction),
  };
}

/** What is added at the ends of what was checked. */
function ends(correction: Correction): object {
  const { low, high } = correction;
  return {
    low: { at: low, add: correctionAt(correction, low) },
    high: { at: high, add: correctionAt(correction, high) },
  };
}
