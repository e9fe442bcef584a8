import type { Site } from "../../shared/site.js";
import { layTable } from "../cli/table.js";
import { html, type Markup } from "../html.js";
import { oneLine } from "../letters/one-line.js";
import { DAYLIGHT } from "../letters/palette.js";
import { numberWords, type TemperatureUnit } from "../letters/temperature-words.js";
import { clockWords, dateWords } from "../letters/time-words.js";
import type { CheckMade } from "./record.js";
import {
  correctionWords,
  deviationWords,
  differenceWords,
  referenceWords,
  type Saying,
  valueWords,
  verdictWords,
} from "./words.js";

/** A check as a page to print and file. */
type Certificate = Readonly<{
  title: string;
  facts: readonly (readonly [label: string, value: string])[];
  pairs: readonly (readonly string[])[];
  budget: readonly (readonly string[])[];
  notes: readonly string[];
}>;

const PAIRS_HEAD = ["probe", "reference", "probe is"];
const BUDGET_HEAD = ["what is unsure", "kind", "standard uncertainty", "from"];
/** A page holds so many; the store has them all. */
const PAIRS_SHOWN = 24;

const NOT_ACCREDITED =
  "This is a keeper's own comparison. It is no calibration by an accredited laboratory (ISO/IEC 17025), makes nothing traceable, and must not be shown as if it did.";
const HOW_SURE =
  "Uncertainties are combined as JCGM 100:2008 (GUM) has it: the root of the sum of squares, times k = 2, which holds about 95 % where there are ten and more effective degrees of freedom.";
const HOW_JUDGED =
  "Within tolerance means that the deviation with all its uncertainty lies inside; out of it, that it lies outside with all of it (guard band as in JCGM 106:2012).";

function gather(
  check: CheckMade,
  site: Pick<Site, "name" | "timezone">,
  unit: TemperatureUnit,
): Certificate {
  const { quantity, result, pairs, tolerance } = check;
  const { timezone } = site;
  const saying: Saying = { quantity, unit };
  const plusMinus = (value: number) => `± ${differenceWords(value, saying)}`;
  const { budget, asFound, asLeft } = result;
  const freedom = budget.degreesOfFreedom;
  const held = ({ deviation, expanded, at, verdict }: typeof asFound) =>
    `${deviationWords(deviation, saying)} at ${valueWords(at, saying)}, ${plusMinus(expanded)}: ${verdictWords(verdict)}`;
  return {
    title: `Check of ${oneLine(check.probeId, 60)}, ${quantity}`,
    facts: [
      ["Site", oneLine(site.name, 80)],
      ["Made", instantWords(check.madeAtMs, timezone)],
      ["Check", check.id],
      ...(check.by === null ? [] : [["By", oneLine(check.by, 80)] as const]),
      ["Against", referenceWords(check.reference, unit)],
      ...certified(check, saying),
      ["As found", held(asFound)],
      ["Correction", `${correctionWords(result.correction, saying)} (${fitWords(check)})`],
      ["Scatter about it", `${differenceWords(result.residualSd, saying)} (standard deviation)`],
      [
        "Uncertainty",
        `${plusMinus(budget.expanded)} (k = 2${freedom === null ? "" : `, ${numberWords(freedom, 0)} effective degrees of freedom`})`,
      ],
      ["As corrected", held(asLeft)],
      ["Tolerance", plusMinus(tolerance)],
      ["Holds", holdsWords(check, timezone)],
      ["Due again", dateWords(check.dueAtMs, timezone)],
      ...(check.note === null ? [] : [["Note", oneLine(check.note, 300)] as const]),
    ],
    pairs: pairs
      .slice(0, PAIRS_SHOWN)
      .map(({ probe, reference }) => [
        valueWords(probe, saying),
        valueWords(reference, saying),
        deviationWords(probe - reference, saying),
      ]),
    budget: budget.components.map(({ what, kind, standard, from }) => [
      what,
      kind,
      preciseWords(standard, saying),
      from,
    ]),
    notes: [
      ...(pairs.length > PAIRS_SHOWN
        ? [`${pairs.length - PAIRS_SHOWN} more pairs are not shown.`]
        : []),
      HOW_SURE,
      HOW_JUDGED,
      NOT_ACCREDITED,
    ],
  };
}

/** A component may be a hundredth of what counts, and its digits should still be seen. */
function preciseWords(standard: number, { quantity, unit }: Saying): string {
  if (quantity === "humidity") return `${numberWords(standard, 2)} %RH`;
  return `${numberWords(unit === "F" ? standard * 1.8 : standard, 3)} °${unit}`;
}

function certified({ reference }: CheckMade, saying: Saying): (readonly [string, string])[] {
  if (reference.kind !== "instrument") return [];
  const { correction, expanded } = reference;
  const added = `${differenceWords(Math.abs(correction), saying)} ${correction < 0 ? "taken off" : "added"}`;
  return [["By its certificate", `${added}, ± ${differenceWords(expanded, saying)} (k = 2)`]];
}

const fitWords = ({ result, pairs }: CheckMade): string =>
  result.fit === "line"
    ? `a line by least squares through ${pairs.length} pairs`
    : `the mean of ${pairs.length} pairs`;

const instantWords = (atMs: number, timezone: string): string =>
  `${clockWords(atMs, timezone)} on ${dateWords(atMs, timezone)}`;

function holdsWords({ holdsFromMs }: CheckMade, timezone: string): string {
  if (holdsFromMs === null) return "for the record only; nothing is corrected by it";
  return `for readings from ${instantWords(holdsFromMs, timezone)} on`;
}

/** A certificate as text. */
export function certificateText(
  check: CheckMade,
  site: Pick<Site, "name" | "timezone">,
  unit: TemperatureUnit,
): string {
  const { title, facts, pairs, budget, notes } = gather(check, site, unit);
  return `${[
    title,
    layTable(["", ""], facts).trimStart(),
    layTable(PAIRS_HEAD, pairs),
    layTable(BUDGET_HEAD, budget),
    notes.join("\n"),
  ].join("\n\n")}\n`;
}

const { paper, ink, quiet, rule } = DAYLIGHT;
const STYLE = `
@page{size:A4;margin:16mm}
body{margin:0 auto;padding:20px;max-width:760px;background:${paper};color:${ink};font:15px/1.4 Georgia,'Times New Roman',serif}
h1{margin:0 0 14px;font:normal 25px/1.2 Georgia,'Times New Roman',serif}
table{border-collapse:collapse;width:100%;margin:0 0 16px}
th,td{border-top:1px solid ${rule};padding:4px 12px 4px 0;text-align:left;vertical-align:top;font-weight:normal}
th{color:${quiet};white-space:nowrap}
caption{text-align:left;font-weight:bold;padding:0 0 4px}
p{margin:0 0 6px;font-size:13px;color:${quiet}}
p:last-child{color:${ink};font-size:15px}
@media print{body{padding:0;font-size:12px;background:#fff}p{font-size:10px}p:last-child{font-size:12px}th,td{padding:2px 10px 2px 0}}
`;

function table(
  caption: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
): Markup {
  return html`<table><caption>${caption}</caption>
<tr>${head.map((cell) => html`<th scope="col">${cell}</th>`)}</tr>
${rows.map((row) => html`<tr>${row.map((cell) => html`<td>${cell}</td>`)}</tr>\n`)}</table>
`;
}

/** A certificate as one page of HTML that fetches nothing. */
export function certificateHtml(
  check: CheckMade,
  site: Pick<Site, "name" | "timezone">,
  unit: TemperatureUnit,
): string {
  const { title, facts, pairs, budget, notes } = gather(check, site, unit);
  const page = html`<title>${title}</title>
</head>
<body>
<h1>${title}</h1>
<table>
${facts.map(([label, value]) => html`<tr><th scope="row">${label}</th><td>${value}</td></tr>\n`)}</table>
${table("Pairs", PAIRS_HEAD, pairs)}${table("How sure it is", BUDGET_HEAD, budget)}${notes.map((note) => html`<p>${note}</p>\n`)}</body>
</html>
`;
  // The style is ours alone; the template escapes what it is given, and quotes would suffer.
  return `<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<style>${STYLE}</style>
${page.toString()}`;
}
