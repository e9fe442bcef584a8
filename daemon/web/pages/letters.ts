import { DAY_MS } from "../../../shared/time.js";
import { html } from "../../html.js";
import { oneLine } from "../../letters/one-line.js";
import type { Delivery, PostedLetter } from "../../store/records.js";
import { letterAddress } from "../address.js";
import { setTable } from "../look/set-table.js";
import type { Page } from "../page.js";
import { wordsFor } from "../words.js";

/** Letters on one page: a season has some dozens, and a bad one some hundreds. */
const MOST = 100;
const SPAN_MS = 400 * DAY_MS;

/** Every letter sent, newest first, and how far it has got. */
export const LETTERS_PAGE: Page = {
  path: "/letters",
  word: "Letters",
  show(asking) {
    const { moment } = wordsFor(asking);
    const all = asking.store.letters.between(asking.nowMs - SPAN_MS, asking.nowMs + DAY_MS);
    const letters = all.slice(-MOST).reverse();
    const rows = letters.map(({ letter, deliveries }: PostedLetter) => [
      html`<a href="${letterAddress(letter.id)}">${oneLine(letter.subject)}</a>`,
      moment(letter.createdAtMs),
      stateWords(deliveries),
    ]);
    const cut =
      all.length > MOST ? `The newest ${MOST} of ${all.length} in the last 400 days. ` : "";
    return {
      title: "Letters",
      main: html`<h1>Letters</h1>
<p>${cut}${rows.length === 0 ? "No letter was written yet. On a good day none comes." : "The newest comes first."}</p>
${
  rows.length > 0 &&
  setTable(
    "Letters written",
    [{ head: "Letter", kind: "long" }, { head: "Written" }, { head: "What became of it" }],
    rows,
  )
}`,
    };
  },
};

/** What became of a letter, counting its keepers. */
function stateWords(deliveries: readonly Delivery[]): string {
  const sent = deliveries.filter(({ sentAtMs }) => sentAtMs !== null).length;
  const givenUp = deliveries.filter(({ givenUpAtMs }) => givenUpAtMs !== null).length;
  const waiting = deliveries.length - sent - givenUp;
  if (deliveries.length === 0) return "for nobody";
  if (sent === deliveries.length) return "sent";
  return [
    sent > 0 && `${sent} sent`,
    waiting > 0 && `${waiting} waiting`,
    givenUp > 0 && `${givenUp} given up`,
  ]
    .filter(Boolean)
    .join(", ");
}
