import type { Excursion } from "../../../shared/excursion.js";
import { html, type Markup } from "../../html.js";
import { adviceOf } from "../../letters/cause-advice.js";
import { placeWords } from "../../letters/letter-context.js";
import { URGENCY_WORDS } from "../../letters/urgency-words.js";
import { excursionAddress } from "../address.js";
import { setDeed } from "../form.js";
import type { Asking } from "../page.js";
import { wordsFor } from "../words.js";

/** An excursion that is open, in a few lines: what it is, what it asks, and the way to answer. */
export function setOpenEvent(excursion: Excursion, asking: Asking): Markup {
  const { id, urgency, startedAtMs } = excursion;
  const { name, direction, state, deed } = adviceOf(excursion.latest);
  const { moment, since } = wordsFor(asking);
  const place = placeWords(excursion);
  return html`<article class="event${direction && html` way ${direction}`}">
<h3><a href="${excursionAddress(id)}">${deed}: ${place}</a></h3>
<p class="said">${capital(name)}${state !== name && `, ${state}`}: ${URGENCY_WORDS[urgency]}.</p>
<p>Since about ${moment(startedAtMs)}, for ${since(startedAtMs)}.</p>
${setAnswer(excursion, asking, "now")}</article>
`;
}

/** The way to acknowledge, or when that was done. */
export function setAnswer(
  excursion: Excursion,
  asking: Asking,
  back: "now" | "story",
): Markup | null {
  const { id, acknowledgedAtMs, endedAtMs } = excursion;
  if (endedAtMs !== null) return null;
  if (acknowledgedAtMs !== null)
    return html`<p class="quiet">Acknowledged at ${wordsFor(asking).moment(acknowledgedAtMs)}. The next letter comes when it is over.</p>
`;
  return setDeed(excursionAddress(id), { back }, "I am on my way");
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
