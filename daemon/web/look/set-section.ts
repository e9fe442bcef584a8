import { type Filling, html, type Markup } from "../../html.js";
import type { Figure, Section } from "../../letters/body.js";
import { bound } from "../words.js";

/** Figures as a ledger: what, how much, and a remark beneath. */
export function setFigures(figures: readonly Figure[]): Markup | null {
  if (figures.length === 0) return null;
  return html`<dl class="ledger">
${figures.map(({ label, value, remark }) =>
  ledgerLine(
    label,
    html`${bound(value)}${remark && html`<br><span class="quiet small">${bound(remark)}</span>`}`,
  ),
)}</dl>
`;
}

/** One line of a ledger. */
export function ledgerLine(label: string, value: Filling): Markup {
  return html`<div><dt>${label}</dt><dd>${value}</dd></div>
`;
}

/** A part of a letter as a part of a page, so that both say the same. */
export function setSection({ heading, sentences, points = [], figures }: Section): Markup {
  return html`${heading !== "" && html`<h2>${heading}</h2>\n`}${sentences.length > 0 && html`<p>${bound(sentences.join(" "))}</p>\n`}${setPoints(points)}${setFigures(figures)}`;
}

/** Sentences as a list; nothing where there are none. */
export function setPoints(points: readonly string[]): Markup | null {
  if (points.length === 0) return null;
  return html`<ul>
${points.map((point) => html`<li>${bound(point)}</li>\n`)}</ul>
`;
}
