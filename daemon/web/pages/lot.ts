import { html, type Markup } from "../../html.js";
import { type LotReport, reportLots } from "../../journal/lot-report.js";
import { lotSection } from "../../journal/lot-words.js";
import { oneLine } from "../../letters/one-line.js";
import { deedAddress, LOTS, lotChangeAddress } from "../address.js";
import { setSection } from "../look/set-section.js";
import type { Asking, Page } from "../page.js";
import { DEED_WORDS } from "./entry-fields.js";
import { setEntries } from "./journal.js";

/** What is done to a lot, in the order in which it is usually done. */
const DEEDS = ["moved", "weighed", "opened", "lost", "released", "ended", "note"] as const;

/** One lot: what it is, what it went through, what was done to it. */
export const LOT_PAGE: Page = {
  path: "/lot/:id",
  show(asking) {
    const report = findLot(asking);
    if (report === null) return null;
    const { store, config } = asking;
    const { id } = report.lot;
    const section = lotSection(report, config.site.timezone, config.temperatureUnit);
    const all = store.journal.soFar().entries;
    const own = all.filter(({ lotId }) => lotId === id).reverse();
    const isAgain = asking.query.again !== undefined;
    const main = html`<h1>${oneLine(id, 60)}</h1>
${isAgain && html`<p role="status" class="says">That was written already, so nothing was added.</p>\n`}${setSection({ ...section, heading: "" })}<p><a href="${lotChangeAddress(id)}">Change what it is</a>; the version before is kept. <a href="${LOTS}">All lots</a></p>
${report.course.overAtMs === null && setDeeds(id)}<h2>What was done to it</h2>
${own.length === 0 ? html`<p>Nothing yet.</p>\n` : setEntries(own, all, asking)}`;
    return { title: id, main };
  },
};

/** The lot that an address names; null where there is none. */
function findLot({ store, config, nowMs, parts }: Asking): LotReport | null {
  return reportLots(store, config.site, nowMs, parts.id ?? "")[0] ?? null;
}

function setDeeds(id: string): Markup {
  const links = DEEDS.map(
    (kind) => html`<li><a href="${deedAddress(kind, { lot: id })}">${DEED_WORDS[kind]}</a></li>\n`,
  );
  return html`<h2>Write down</h2>
<ul class="columns deeds">
${links}</ul>
`;
}
