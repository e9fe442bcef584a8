import { inkProperties } from "../../drawing/inks.js";
import type { Look } from "../../drawing/look.js";
import { placeMonths } from "../../drawing/sheet-rows.js";
import { drawMonths, drawSheetLegend, drawWinterStaves } from "../../drawing/winter-sheet.js";
import { html, type Markup } from "../../html.js";
import type { Figure } from "../../letters/body.js";
import { oneLine } from "../../letters/one-line.js";
import { DAYLIGHT, LAMPLIGHT } from "../../letters/palette.js";
import { momentWords } from "../../letters/time-words.js";
import { type ReviewTable, tableOfMonths, tableOfWeeks } from "../../season/review-table.js";
import { reviewFigures, reviewHeading, reviewName } from "../../season/review-words.js";
import type { Season } from "../../season/season.js";

type Reading = Pick<Look, "timezone" | "unit" | "hourCycle">;

/** As wide as the text of a sheet of A4 or Letter, and as a phone; px. */
const PAPER_PX = 700;
const PHONE_PX = 350;

/** Seasons of one chamber: one alone, or two side by side. */
export type SeasonGroup = readonly Season[];

/**
 * A review as one file that needs nothing else: pictures inside, no script, nothing fetched. It
 * reads on a phone and a desk, by day and in the dark, and prints on A4 and Letter.
 */
export function reviewPage(
  siteName: string,
  groups: readonly SeasonGroup[],
  look: Reading,
  atMs: number,
): string {
  const name = oneLine(siteName, 80);
  return html`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>The winter at ${name}</title>
<style>${STYLE}</style>
</head>
<body>
<main>
<h1>The winter at ${name}</h1>
<p class="quiet">Reviewed by Drowse at ${momentWords(atMs, look.timezone)}. Times are those of ${oneLine(look.timezone)}.</p>
${groups.map((group, i) => (group.length > 1 ? setBeside(group, look, i) : setSeason(group[0]!, look, i)))}${setMeaning()}</main>
</body>
</html>
`.toString();
}

function setSeason(season: Season, look: Reading, index: number): Markup {
  const { material, review } = season;
  const sheets = [
    { widthPx: PAPER_PX, kind: "wide" },
    { widthPx: PHONE_PX, kind: "narrow" },
  ].map(({ widthPx, kind }) => {
    const own = lookAt(look, widthPx, `${kind}-${index}`);
    return html`<div class="sheet ${kind}">
${drawWinterStaves(material, own).map(setStave)}</div>
`;
  });
  return html`<section>
<h2>${reviewHeading(season, look.timezone)}</h2>
${setFigures(reviewFigures(season, look))}${sheets}${setTable(tableOfMonths(review.months, look))}${setTable(tableOfWeeks(review.weeks(), look))}</section>
`;
}

/** Months of the same name side by side, both to one scale. */
function setBeside(group: SeasonGroup, look: Reading, index: number): Markup {
  const names = group.map((season) => reviewName(season, look.timezone));
  const materials = group.map(({ material }) => material);
  const looks = group.map((_, i) => lookAt(look, PHONE_PX, `beside-${index}-${i}`));
  const columns = materials.map((material, i) => drawMonths(material, looks[i]!, materials));
  const placed = columns.map((column) => placeMonths(column, columns, look.timezone));
  const places = new Set(placed.flat().map(({ place }) => place));
  const cellsOf = (place: number) =>
    placed.map((column) => {
      const drawing = column.find((one) => one.place === place);
      return drawing === undefined ? html`<div></div>\n` : setStave(drawing.draw());
    });
  return html`<section>
<h2>${oneLine(group[0]!.chamber.id, 60)}: ${names.join(" beside ")}</h2>
${setFiguresBeside(group, names, look)}<div class="pair">
${names.map((name) => html`<h3>${name}</h3>\n`)}${[...places].sort((a, b) => a - b).map(cellsOf)}</div>
${setStave(drawSheetLegend({ ...looks[0]!, widthPx: PAPER_PX }))}${group.map(({ review }, i) =>
  setTable({ ...tableOfMonths(review.months, look), caption: `${names[i]} by month` }),
)}</section>
`;
}

const lookAt = (look: Reading, widthPx: number, idPrefix: string): Look => ({
  ...look,
  widthPx,
  idPrefix,
  hrefOf: null,
});

const setStave = (svg: Markup): Markup => html`<div class="stave">${svg}</div>
`;

function setFigures(figures: readonly Figure[]): Markup {
  return html`<dl>
${figures.map(
  ({ label, value, remark }) =>
    html`<div><dt>${label}</dt><dd>${value}${remark !== null && html`<br><span class="quiet">${remark}</span>`}</dd></div>\n`,
)}</dl>
`;
}

function setFiguresBeside(group: SeasonGroup, names: readonly string[], look: Reading): Markup {
  const figures = group.map((season) => reviewFigures(season, look));
  const labels = [...new Set(figures.flat().map(({ label }) => label))];
  return setTable({
    caption: "Both in figures",
    columns: [{ head: "" }, ...names.map((head) => ({ head, kind: "number" as const }))],
    rows: labels.map((label) => [
      label,
      ...figures.map((one) => one.find((figure) => figure.label === label)?.value ?? ""),
    ]),
  });
}

function setTable({ caption, columns, rows }: ReviewTable): Markup {
  const classOf = (i: number) => columns[i]?.kind === "number" && html` class="n"`;
  return html`<div class="scroll" tabindex="0" role="region" aria-label="${caption}">
<table>
<caption>${caption}</caption>
<thead><tr>${columns.map(({ head }, i) =>
    head === "" ? html`<td></td>` : html`<th scope="col"${classOf(i)}>${head}</th>`,
  )}</tr></thead>
<tbody>
${rows.map(
  ([first, ...others]) =>
    html`<tr><th scope="row">${first}</th>${others.map((cell, i) => html`<td${classOf(i + 1)}>${cell}</td>`)}</tr>\n`,
)}</tbody>
</table>
</div>
`;
}

function setMeaning(): Markup {
  return html`<section>
<h2>What this can and cannot say</h2>
<p>The thread is the cocoons' temperature on its band; what lies beyond the band is hatched, and the
hatched area is degrees times hours. Figures are reckoned from hours, so that what passes within one,
such as an opening, is smoothed. Reserve is counted in days at 4 °C that would use as much of the
stored fat, with a rate usual for dormant insects: it is reckoned from temperature, no measured share
of fat, and no chance of survival. What was not seen is in no figure.</p>
</section>
`;
}

// No quotes in it: they would be escaped, as everything is that stands in a template.
const STYLE = `
:root{color-scheme:light dark;${inkProperties(DAYLIGHT)};--drawing-font:DejaVu Sans Condensed,Arial Narrow,Arial,sans-serif}
@media (prefers-color-scheme:dark){:root{${inkProperties(LAMPLIGHT)}}}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:1rem/1.5 Georgia,DejaVu Serif,serif;-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;padding:1rem}
main{max-width:52rem;margin:0 auto}
h1{font-weight:normal;font-size:1.7rem;line-height:1.2;margin:.5rem 0}
h2{font-weight:normal;font-size:1.3rem;line-height:1.25;margin:2rem 0 .6rem}
h3{font-size:1rem;margin:.4rem 0}
.quiet{color:var(--quiet);font-size:.9em}
dl{margin:0 0 1.2rem}
@media (min-width:48rem){dl{columns:2;column-gap:2.4rem}}
dl div{break-inside:avoid;display:flex;gap:1rem;justify-content:space-between;border-top:1px solid var(--rule);padding:.35rem 0}
dt{color:var(--quiet);flex:none;max-width:60%}
dd{margin:0;text-align:right}
.stave{margin:0 0 .6rem}
.stave svg{display:block;width:100%;height:auto}
.narrow{display:none}
.pair{display:grid;grid-template-columns:1fr 1fr;gap:0 1.2rem;align-items:start}
.scroll{overflow-x:auto;margin:1.2rem 0}
table{border-collapse:collapse;font:.85rem/1.4 DejaVu Sans Condensed,Arial Narrow,Arial,sans-serif;width:100%}
caption{text-align:left;font:1.1rem/1.3 Georgia,DejaVu Serif,serif;padding:0 0 .4rem}
th,td{border-top:1px solid var(--rule);padding:.3rem .5rem .3rem 0;text-align:left;vertical-align:top;font-weight:normal}
thead th{color:var(--quiet);vertical-align:bottom}
.n{text-align:right;padding-left:.5rem;padding-right:0}
tbody th{white-space:nowrap}
tbody td.n{white-space:nowrap}
@media (max-width:36rem){.wide{display:none}.narrow{display:block}.pair{grid-template-columns:1fr}.pair h3{display:none}}
@media print{
@page{margin:14mm}
:root{${inkProperties(DAYLIGHT)};--paper:#fff;color-scheme:light}
html{font-size:10pt}
body{padding:0}
main{max-width:none}
.wide{display:block}.narrow{display:none}.pair{grid-template-columns:1fr 1fr}.pair h3{display:block}
.stave,tr{break-inside:avoid}
dl{columns:2;column-gap:2.4rem}
dl div{padding:.2rem 0}
h2,h3,caption{break-after:avoid}
.scroll{overflow:visible}
table{font-size:7.5pt}
th,td{padding:.15rem .3rem .15rem 0}
*{-webkit-print-color-adjust:exact;print-color-adjust:exact}
}
`;
