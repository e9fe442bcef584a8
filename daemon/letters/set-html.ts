import { html, type Markup } from "../html.js";
import type { Answer, Direction, Figure, LetterBody, Section } from "./body.js";
import type { LetterPicture } from "./letter-picture.js";
import { DAYLIGHT, HATCHING_DEG, type Inks, LAMPLIGHT } from "./palette.js";
import { pictureSlot } from "./picture-slot.js";

const SERIF = "Georgia,'Times New Roman',serif";
const MONO = "Menlo,Consolas,'DejaVu Sans Mono',monospace";
const SANS = "-apple-system,'Segoe UI',Roboto,'Noto Sans',Arial,sans-serif";

/** Keep a value and its unit on one line. */
const bound = (text: string): string => text.replace(/ (?=°|%)/g, "\u00a0");

function hatching(direction: Direction, inks: Inks): string {
  const ink = inks.directions[direction];
  const lines = `${ink} 0,${ink} 3px,${inks.paper} 3px,${inks.paper} 7px`;
  return `repeating-linear-gradient(${HATCHING_DEG[direction]}deg,${lines})`;
}

/** Rules for a dark screen, where the mail reader honours them; all else is set inline. */
function darkRules(direction: Direction | null): string {
  const { paper, ink, quiet, rule, inset, directions } = LAMPLIGHT;
  const strip = direction
    ? `.strip{background:${directions[direction]} ${hatching(direction, LAMPLIGHT)}!important}` +
      `.aside{color:${directions[direction]}!important}`
    : "";
  return (
    ":root{color-scheme:light dark;supported-color-schemes:light dark}" +
    "@media(prefers-color-scheme:dark){" +
    `.paper{background:${paper}!important}.ink{color:${ink}!important}` +
    `.quiet{color:${quiet}!important}.rule{border-color:${rule}!important}` +
    `.inset{background:${inset}!important}${strip}}`
  );
}

function setFigure({ label, value, remark }: Figure): Markup {
  const edge = `border-top:1px solid ${DAYLIGHT.rule}`;
  return html`<tr>
<td class="quiet rule" style="${edge};width:42%;padding:7px 12px 7px 0;color:${DAYLIGHT.quiet};vertical-align:top">${label}</td>
<td class="ink rule" style="${edge};padding:7px 0;color:${DAYLIGHT.ink};text-align:right;vertical-align:top">${bound(value)}${
    remark === null
      ? null
      : html`<br><span class="quiet" style="color:${DAYLIGHT.quiet};font-size:14px">${bound(remark)}</span>`
  }</td>
</tr>`;
}

function setHeading(heading: string): Markup {
  return html`<h2 class="ink" style="margin:26px 0 6px;font:bold 16px/1.3 ${SANS};color:${DAYLIGHT.ink}">${heading}</h2>
`;
}

/** A letter's pictures, in the order of their slots. */
export const picturesOf = ({ sections }: Pick<LetterBody, "sections">): LetterPicture[] =>
  sections.flatMap(({ picture }) => picture ?? []);

function setSection(
  { heading, sentences, points = [], figures, picture }: Section,
  pictures: readonly LetterPicture[],
): Markup {
  const told = html`<p class="ink" style="margin:0 0 8px;color:${DAYLIGHT.ink}">${bound(sentences.join(" "))}</p>
`;
  const table = html`<table role="presentation" width="100%" style="border-collapse:collapse;font:16px/1.4 ${SANS}">
${figures.map(setFigure)}
</table>
`;
  const listed = html`<ul class="ink" style="margin:0;padding:0 0 0 20px;color:${DAYLIGHT.ink}">
${points.map((point) => html`<li style="margin:0 0 8px">${bound(point)}</li>\n`)}</ul>
`;
  return html`${setHeading(heading)}${sentences.length > 0 && told}${points.length > 0 && listed}${figures.length > 0 && table}${picture && pictureSlot(pictures.indexOf(picture))}`;
}

function setSteps({ stepsHeading, steps, cautions }: LetterBody): Markup {
  const list = html`${setHeading(stepsHeading)}<ol class="ink" style="margin:0;padding:0 0 0 22px;color:${DAYLIGHT.ink}">
${steps.map((step) => html`<li style="margin:0 0 8px">${bound(step)}</li>\n`)}</ol>
`;
  const care = html`<div class="inset rule" style="margin:18px 0 0;padding:12px 14px;background:${DAYLIGHT.inset};border:1px solid ${DAYLIGHT.rule}">
<h2 class="ink" style="margin:0 0 4px;font:bold 16px/1.3 ${SANS};color:${DAYLIGHT.ink}">Take care</h2>
${cautions.map(
  (caution) =>
    html`<p class="ink" style="margin:0 0 6px;color:${DAYLIGHT.ink}">${bound(caution)}</p>\n`,
)}</div>
`;
  return html`${steps.length > 0 && list}${cautions.length > 0 && care}`;
}

function setTop({ direction, aside, deed }: LetterBody): Markup {
  const ink = direction === null ? DAYLIGHT.quiet : DAYLIGHT.directions[direction];
  // A reader without gradients shows the plain colour given before the hatching.
  const strip =
    direction &&
    html`<div class="strip" style="height:9px;font-size:0;line-height:0;background-color:${ink};background-image:${hatching(direction, DAYLIGHT)}">&nbsp;</div>
`;
  return html`${strip}<p class="${direction === null ? "quiet" : "aside"}" style="margin:18px 0 4px;font-size:15px;color:${ink}">${aside}</p>
<h1 class="ink" style="margin:0;font:normal 27px/1.25 ${SERIF};color:${DAYLIGHT.ink}">${bound(deed)}</h1>
`;
}

function setAnswer({ sentence, command }: Answer): Markup {
  const typed =
    command !== null &&
    html`<br><code class="ink" style="font:15px/1.8 ${MONO};color:${DAYLIGHT.ink}">${command}</code>`;
  return html`<p class="ink" style="margin:0 0 8px;font-size:16px;color:${DAYLIGHT.ink}">${bound(sentence)}${typed}</p>
`;
}

/** The HTML side of a letter: one narrow column, nothing fetched from anywhere, a slot for each picture. */
export function setHtml(body: LetterBody): string {
  const pictures = picturesOf(body);
  const sections = body.sections.map((section) => setSection(section, pictures));
  return html`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="supported-color-schemes" content="light dark">
<title>${body.deed}</title>
<style>${darkRules(body.direction)}</style>
</head>
<body class="paper" style="margin:0;padding:0;background:${DAYLIGHT.paper}">
<div class="paper ink" style="max-width:560px;margin:0 auto;padding:16px 18px 32px;background:${DAYLIGHT.paper};color:${DAYLIGHT.ink};font:17px/1.5 ${SANS};overflow-wrap:anywhere">
${setTop(body)}${sections.slice(0, body.stepsAfter)}${setSteps(body)}${sections.slice(body.stepsAfter)}
<div class="rule" style="margin:26px 0 0;padding:14px 0 0;border-top:1px solid ${DAYLIGHT.rule}">
${body.closing.map(setAnswer)}<p class="quiet" style="margin:14px 0 0;font-size:14px;color:${DAYLIGHT.quiet}">${body.signature}</p>
</div>
</div>
</body>
</html>
`.toString();
}
