import { DAY_MS } from "../../../shared/time.js";
import { html } from "../../html.js";
import { oneLine } from "../../letters/one-line.js";
import type { Delivery } from "../../store/records.js";
import { letterAddress } from "../address.js";
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
    const lines = letters.map(
      ({ letter, deliveries }) =>
        html`<li><a href="${letterAddress(letter.id)}">${oneLine(letter.subject)}</a><br><span class="quiet small">${moment(letter.createdAtMs)}, ${stateWords(deliveries)}</span></li>\n`,
    );
    const cut = all.length > MOST ? ` The newest ${MOST} of ${all.length} in 400 days.` : "";
    const none = html`<p>No letter was written yet. On a good day none comes.</p>\n`;
    const list = html`<p>The newest comes first.${cut}</p>
<ul class="letters">
${lines}</ul>
`;
    const main = html`<h1>Letters</h1>\n${letters.length === 0 ? none : list}`;
    return { title: "Letters", main };
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
