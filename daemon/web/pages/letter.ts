import { html } from "../../html.js";
import { oneLine } from "../../letters/one-line.js";
import type { Delivery } from "../../store/records.js";
import { excursionAddress } from "../address.js";
import { setTable } from "../look/set-table.js";
import type { Asking, Page } from "../page.js";
import { wordsFor } from "../words.js";

/** One letter as it was written, and its way to each keeper. */
export const LETTER_PAGE: Page = {
  path: "/letter/*",
  show(asking) {
    const posted = asking.store.letters.get(asking.parts["*"] ?? "");
    if (posted === null) return null;
    const { letter, deliveries } = posted;
    const story = letter.excursionId;
    return {
      title: letter.subject,
      main: html`<h1>${oneLine(letter.subject)}</h1>
<p class="quiet">Written at ${wordsFor(asking).moment(letter.createdAtMs)}.${
        story !== null && html` <a href="${excursionAddress(story)}">The whole story</a>`
      }</p>
<pre>${letter.text}</pre>
<h2>Its way</h2>
${setTable(
  "To whom, and what became of it",
  [
    { head: "Keeper", kind: "long" },
    { head: "State", kind: "long" },
    { head: "Tries", kind: "number" },
  ],
  deliveries.map((one) => [one.keeper, wayOf(one, asking), one.attempts]),
)}<p><a href="/letters">All letters</a></p>
`,
    };
  },
};

function wayOf({ sentAtMs, givenUpAtMs, nextTryAtMs, lastError }: Delivery, asking: Asking) {
  const { moment } = wordsFor(asking);
  if (sentAtMs !== null) return html`sent at ${moment(sentAtMs)}`;
  const said = lastError && html`<br><span class="quiet">${oneLine(lastError, 500)}</span>`;
  return givenUpAtMs !== null
    ? html`given up at ${moment(givenUpAtMs)}${said}`
    : html`tried next at ${moment(nextTryAtMs)}${said}`;
}
