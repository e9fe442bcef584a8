import { dueDeed, dueWhen, dueWithin } from "../../due/due-words.js";
import { gatherYear } from "../../due/gather-due.js";
import { html, type Markup } from "../../html.js";
import { DUE } from "../address.js";
import { ledgerLine } from "../look/set-section.js";
import type { Asking } from "../page.js";

const WITHIN_DAYS = 7;

/** What falls due within a week, in a few lines; nothing where there is nothing to be due. */
export function setDueSoon({ store, config, nowMs }: Asking): Markup | null {
  const year = gatherYear(store, config, nowMs);
  if (year.lots.length === 0 && year.due.length === 0) return null;
  const due = dueWithin(year, WITHIN_DAYS);
  const word = year.release?.word ?? "hold";
  return html`<h2>What is due</h2>
${
  due.length === 0
    ? html`<p>Nothing falls due within a week.</p>\n`
    : html`<dl class="ledger">
${due.map((one) => ledgerLine(dueDeed(one), dueWhen(one, year.today)))}</dl>\n`
}<p>${word !== "hold" && html`Release: <strong>${word}</strong>. `}<a href="${DUE}">All that is due, and the release</a></p>
`;
}
