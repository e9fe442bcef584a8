import type { WinterMaterial } from "../../drawing/material.js";
import { excursionWords } from "../../drawing/words.js";
import { html, type Markup } from "../../html.js";
import { adviceFor } from "../../letters/cause-advice.js";
import { excursionAddress } from "../address.js";
import type { Asking } from "../page.js";
import { bound, wordsFor } from "../words.js";
import { capital } from "./event.js";

/** What happened in a stretch of time, one line each, and how many ordinary openings there were. */
export function setExcursions(
  { excursions, openingsMs, defrostsMs }: WinterMaterial,
  asking: Asking,
): Markup {
  const { moment } = wordsFor(asking);
  const unit = asking.config.temperatureUnit;
  const lines = excursions.map((mark) => {
    const { direction } = adviceFor(mark.cause);
    return html`<li${direction && html` class="way ${direction}"`}><a href="${excursionAddress(mark.id)}">${capital(bound(excursionWords(mark, unit)))}</a><br><span class="quiet small">${moment(mark.startedAtMs)}</span></li>
`;
  });
  return html`<h2>What happened</h2>
${excursions.length === 0 ? html`<p>Nothing but what every fridge does.</p>\n` : html`<ul class="events">\n${lines}</ul>\n`}<p>Ordinary openings: ${openingsMs.length}. Defrosts: ${defrostsMs.length}.</p>
`;
}
