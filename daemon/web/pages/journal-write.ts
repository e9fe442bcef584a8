import { Temporal } from "temporal-polyfill";
import type { ActKind, Entry } from "../../../shared/journal.js";
import { html } from "../../html.js";
import { ACT_KINDS } from "../../journal/acts.js";
import { entryFields } from "../../journal/columns.js";
import type { Draft } from "../../journal/draft.js";
import { actWords } from "../../journal/entry-words.js";
import { followLots } from "../../journal/lot-report.js";
import { writeJournal } from "../../journal/write-journal.js";
import { NOT_FOR_FOOD } from "../../letters/cautions.js";
import { JOURNAL } from "../address.js";
import { type FormFaults, setForm, type Typed } from "../form.js";
import { onceField, takeOnce } from "../once.js";
import type { Asking, Page, Shown } from "../page.js";
import { DEED_WORDS, fieldsFor, gatherBoxes, spreadBoxes } from "./entry-fields.js";

/** The form for one deed; with `?corrects=` in place of an entry, with `?lot=` of a lot. */
export const JOURNAL_WRITE_PAGE: Page = {
  path: `${JOURNAL}/write/:deed`,
  writes: true,
  show(asking) {
    const kind = kindOf(asking);
    if (kind === null) return null;
    const corrected = correctedBy(asking);
    const given = corrected === null ? {} : fieldsOf(corrected, asking);
    return showForm(kind, asking, spreadBoxes({ ...given, ...lotOf(asking) }), {});
  },
  take(asking, posted) {
    const kind = kindOf(asking);
    if (kind === null) return null;
    const { store, config, nowMs, query } = asking;
    const { typed, onceId } = takeOnce(posted, asking);
    const { on = "", ...said } = gatherBoxes(typed);
    const corrected = correctedBy(asking);
    // To the minute it is as it was; the seconds of the entry must not get lost for that.
    const isAsBefore = corrected !== null && on === fieldsOf(corrected, asking).on;
    const entry = {
      ...said,
      deed: kind,
      ...(!isAsBefore && { on }),
      ...(query.corrects !== undefined && { corrects: query.corrects }),
    };
    const write = (draft: Draft) => draft.addEntry(entry);
    const wrote = writeJournal(store, config.site, nowMs, write, onceId);
    if ("wrong" in wrote) return { ...showForm(kind, asking, posted, wrote.wrong), status: 422 };
    return { goTo: `${JOURNAL}?wrote=${wrote.numbers.at(-1)}${wrote.isAgain ? AGAIN : ""}` };
  },
};

/** Said of what was posted once more. */
const AGAIN = "&again=yes";

function kindOf({ parts }: Asking): ActKind | null {
  return ACT_KINDS.find((kind) => kind === parts.deed) ?? null;
}

function lotOf({ query }: Asking): Typed {
  return query.lot === undefined ? {} : { lot: query.lot };
}

function correctedBy({ query, store }: Asking): Entry | null {
  const { entries } = store.journal.soFar();
  return entries.find(({ no }) => String(no) === query.corrects) ?? null;
}

/** An entry as its form would have been filled in, its time on the site's clock. */
function fieldsOf(entry: Entry, { config }: Asking): Typed & { on: string } {
  const local = Temporal.Instant.fromEpochMilliseconds(entry.atMs)
    .toZonedDateTimeISO(config.site.timezone)
    .toPlainDateTime();
  const fields = Object.entries(entryFields(entry)).filter(([, text]) => text !== undefined);
  return { ...Object.fromEntries(fields), on: local.toString({ smallestUnit: "minute" }) };
}

function showForm(kind: ActKind, asking: Asking, typed: Typed, faults: FormFaults): Shown {
  const { store, config, query } = asking;
  const chambers = config.site.chambers.map(({ id }) => id);
  const lots = followLots(store)
    .filter(({ course, lot }) => course.overAtMs === null || lot.id === typed.lot)
    .map(({ lot }) => lot.id);
  const [only] = chambers;
  const place = chambers.length === 1 && typed.lot === undefined ? { chamber: only! } : {};
  const corrected = correctedBy(asking);
  const title = DEED_WORDS[kind];
  const form = setForm({
    fields: fieldsFor(kind, { chambers, lots }),
    typed: { ...place, ...typed },
    faults,
    hidden: onceField(typed, asking),
    deed: kind === "withdrawn" ? "Take it back" : "Write it down",
    // A post goes to the very address, so that what it corrects is not lost.
    to: addressOf(kind, query),
  });
  const main = html`<h1>${title}</h1>
${corrected && html`<p>In place of entry ${corrected.no}: ${actWords(corrected)}. That entry stays in the journal, as corrected.</p>\n`}${kind === "moved" && html`<p>${NOT_FOR_FOOD}</p>\n`}${form}<p><a href="${JOURNAL}">Back to the journal</a></p>
`;
  return { title, main };
}

function addressOf(kind: ActKind, query: Asking["query"]): string {
  const { corrects } = query;
  const asked = corrects === undefined ? "" : `?corrects=${encodeURIComponent(corrects)}`;
  return `${JOURNAL}/write/${kind}${asked}`;
}
