import type { Entry } from "../../../shared/journal.js";
import { html, type Markup } from "../../html.js";
import { ACT_KINDS } from "../../journal/acts.js";
import { actWords, cautionsFor } from "../../journal/entry-words.js";
import { oneLine } from "../../letters/one-line.js";
import { clockWords, dateWords } from "../../letters/time-words.js";
import { deedAddress, JOURNAL, lotAddress } from "../address.js";
import { setPoints } from "../look/set-section.js";
import { setTable } from "../look/set-table.js";
import type { Asking, Page } from "../page.js";
import { DEED_WORDS } from "./entry-fields.js";

/** Entries on one page, newest first; a season has some hundred. */
const MOST = 200;

/** What was done and seen, and what can be written down. */
export const JOURNAL_PAGE: Page = {
  path: JOURNAL,
  word: "Journal",
  show(asking) {
    const { entries } = asking.store.journal.soFar();
    const newest = entries.toSorted((a, b) => b.atMs - a.atMs || b.no - a.no).slice(0, MOST);
    const cut = entries.length > MOST && html` The newest ${MOST} of ${entries.length}.`;
    const main = html`<h1>Journal</h1>
${setWrote(asking, entries)}<div class="unprinted">
<h2>Write down</h2>
${setDeeds()}</div>
<h2>What was written</h2>
<p class="quiet">The newest comes first.${cut} Nothing here is ever changed: a correction is a later entry.</p>
${newest.length === 0 ? html`<p>Nothing yet.</p>\n` : setEntries(newest, entries, asking)}`;
    return { title: "Journal", main };
  },
};

/** What was written just now, and what to take care of with it. */
function setWrote({ query }: Asking, entries: readonly Entry[]): Markup | null {
  const entry = entries.find(({ no }) => String(no) === query.wrote);
  if (entry === undefined) return null;
  const cautions = cautionsFor(entry);
  return html`<div role="status">
<p class="says">${query.again === undefined ? html`Entry ${entry.no} is written.` : html`Entry ${entry.no} was written already, so nothing was added.`}</p>
<p>${actWords(entry)}</p>
${cautions.length > 0 && html`<h2>Take care</h2>\n${setPoints(cautions)}`}</div>
`;
}

/** Every deed with the way to its form. */
function setDeeds(): Markup {
  const kinds = ACT_KINDS.filter((kind) => kind !== "withdrawn");
  return html`<ul class="columns deeds">
${kinds.map((kind) => html`<li><a href="${deedAddress(kind)}">${DEED_WORDS[kind]}</a></li>\n`)}</ul>
`;
}

/** Entries as a table; of each it says whether it still holds, and how to correct it. */
export function setEntries(some: readonly Entry[], all: readonly Entry[], asking: Asking): Markup {
  const { timezone } = asking.config.site;
  const moment = (atMs: number) =>
    html`<time datetime="${new Date(atMs).toISOString()}">${dateWords(atMs, timezone)}, ${clockWords(atMs, timezone, asking.hourCycle)}</time>`;
  const by = new Map(all.map(({ corrects, no }) => [corrects, no]));
  const rows = some.map((entry) => {
    const { no, atMs, act, chamberId, lotId, words, corrects } = entry;
    const later = by.get(no);
    const standing =
      later !== undefined
        ? `corrected by ${later}`
        : act.kind === "withdrawn"
          ? `takes back ${corrects}`
          : html`${corrects !== null && `corrects ${corrects}; `}<a href="${deedAddress(act.kind, { corrects: no })}">correct<span class="unseen"> entry ${no}</span></a>, <a href="${deedAddress("withdrawn", { corrects: no })}">take back<span class="unseen"> entry ${no}</span></a>`;
    return [
      no,
      moment(atMs),
      later === undefined ? actWords(entry) : html`<s>${actWords(entry)}</s>`,
      chamberId ?? "",
      lotId === null ? "" : html`<a href="${lotAddress(lotId)}">${lotId}</a>`,
      oneLine(words, 200),
      standing,
    ];
  });
  return setTable(
    "Entries of the journal",
    [
      { head: "Entry" },
      { head: "When", kind: "long" },
      { head: "What", kind: "long" },
      { head: "Where" },
      { head: "Lot" },
      { head: "Words", kind: "long" },
      { head: "Standing", kind: "long" },
    ],
    rows,
  );
}
