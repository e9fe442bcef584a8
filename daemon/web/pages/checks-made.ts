import { type HistoryItem, historyOf } from "../../checks/history.js";
import {
  correctionWords,
  deviationWords,
  differenceWords,
  referenceWords,
  verdictWords,
} from "../../checks/words.js";
import { html, type Markup } from "../../html.js";
import { oneLine } from "../../letters/one-line.js";
import { dateWords } from "../../letters/time-words.js";
import { setTable } from "../look/set-table.js";
import type { Asking } from "../page.js";
import { bound } from "../words.js";

/** Checks on one page, newest first; a dozen probes twice a year for years. */
const MOST = 100;

/** Every check that was made, newest first, withdrawn or not. */
export function setChecksMade(asking: Asking): Markup {
  const items = historyOf(asking.store.checks.entries(), null).toReversed();
  const how = html`<p>The newest comes first. <code>drowse check</code> makes one, and says how it is done.</p>
`;
  const none = html`<p>No check was made yet. <code>drowse check</code> begins one, and says how it is done.</p>
`;
  return html`<h2 id="checks">Checks made</h2>
${
  items.length === 0
    ? none
    : html`${how}${setTable(
        "Checks of probes",
        COLUMNS,
        items.slice(0, MOST).map((item) => rowOf(item, asking)),
      )}`
}`;
}

const COLUMNS = [
  { head: "Made" },
  { head: "Probe" },
  { head: "Against" },
  { head: "As found", kind: "long" },
  { head: "Correction", kind: "long" },
  { head: "Standing", kind: "long" },
] as const;

function rowOf({ check, withdrawnAtMs }: HistoryItem, { config }: Asking): string[] {
  const { timezone } = config.site;
  const { madeAtMs, probeId, quantity, reference, result, holdsFromMs, dueAtMs } = check;
  const saying = { quantity, unit: config.temperatureUnit };
  const { deviation, verdict } = result.asFound;
  const unsure = differenceWords(result.budget.expanded, saying);
  return [
    dateWords(madeAtMs, timezone),
    `${oneLine(probeId, 60)}, ${quantity}`,
    referenceWords(reference, config.temperatureUnit),
    bound(`${deviationWords(deviation, saying)}, ${verdictWords(verdict)}`),
    bound(`${correctionWords(result.correction, saying)}, ±\u00a0${unsure}`),
    withdrawnAtMs !== null
      ? `withdrawn on ${dateWords(withdrawnAtMs, timezone)}`
      : holdsFromMs === null
        ? "for the record only"
        : `holds from ${dateWords(holdsFromMs, timezone)}, due again on ${dateWords(dueAtMs, timezone)}`,
  ];
}
