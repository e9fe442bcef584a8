import type { Chamber } from "../../../shared/site.js";
import { DAY_MS } from "../../../shared/time.js";
import { gatherStanding, type Standing } from "../../cli/now/standing.js";
import { html, type Markup } from "../../html.js";
import { againstBand } from "../../letters/finding-words.js";
import { oneLine } from "../../letters/one-line.js";
import { numberWords } from "../../letters/temperature-words.js";
import { gatherCourse } from "../../season/gather-course.js";
import { NOW } from "../address.js";
import { ledgerLine } from "../look/set-section.js";
import type { Asking, Page } from "../page.js";
import { bound, wordsFor } from "../words.js";
import { setCoursePicture } from "./course-picture.js";
import { setDueSoon } from "./due-soon.js";
import { capital, setOpenEvent } from "./event.js";

/** How everything stands: the cocoons and what is open, then whether letters get through. */
export const NOW_PAGE: Page = {
  path: NOW,
  word: "Now",
  show(asking) {
    const { config, store, nowMs } = asking;
    const standing = gatherStanding(store, config.site, nowMs);
    const { chambers } = config.site;
    const open = store.excursions.open().map((excursion) => setOpenEvent(excursion, asking));
    const main = html`<h1>How the cocoons are</h1>
${open.length > 0 && html`<h2>What is open</h2>\n${open}<h2>What they feel</h2>\n`}${chambers.map(
  (chamber) => setChamber(chamber, standing, asking),
)}${open.length === 0 && html`<p>Nothing is open.</p>\n`}${NOW_PARTS.map((part) => part(asking))}${setMail(standing)}${chambers.map(
  (chamber, i) => setLastDay(chamber, i, asking),
)}`;
    return { title: "Now", main };
  },
};

/** Parts that other rooms add to this page, below what is open. */
const NOW_PARTS: readonly ((asking: Asking) => Markup | null)[] = [setDueSoon];

function setChamber(chamber: Chamber, standing: Standing, asking: Asking): Markup {
  const { degrees, percent, clock } = wordsFor(asking);
  const { cocoonC, airC, humidityPct } = standing.chambers.find(({ id }) => id === chamber.id)!;
  const { low, high } = chamber.humidityBandPct;
  const side =
    cocoonC === null
      ? null
      : cocoonC > chamber.bandC.high
        ? "warm"
        : cocoonC < chamber.bandC.low
          ? "cold"
          : null;
  const against =
    cocoonC === null ? null : againstBand(cocoonC, chamber.bandC, asking.config.temperatureUnit);
  const name = oneLine(chamber.id, 60);
  const says =
    cocoonC === null
      ? html`What the cocoons in ${name} feel is not known yet.`
      : html`The cocoons in ${name} are at <strong>${degrees(cocoonC)}</strong>, ${bound(against!)}.`;
  return html`<section${side && html` class="way ${side}"`}>
<p class="says">${says}</p>
<dl class="ledger">
${ledgerLine("Air", degrees(airC))}${ledgerLine(
  "Humidity",
  humidityPct === null
    ? percent(null)
    : html`${percent(humidityPct)} <span class="quiet small">band ${numberWords(low, 0)} to ${numberWords(high, 0)}\u00a0%</span>`,
)}${ledgerLine("Judged", standing.judgedAt === null ? "not yet" : clock(Date.parse(standing.judgedAt)))}</dl>
${setHeard(chamber, standing, asking)}</section>
`;
}

/** The last day in a picture; nothing before the first reading. */
function setLastDay(chamber: Chamber, index: number, asking: Asking): Markup | null {
  const { config, store, nowMs } = asking;
  const span = { fromMs: nowMs - DAY_MS, toMs: nowMs };
  const material = gatherCourse(store, config.site, chamber, span, nowMs);
  if (material.cocoons.length === 0 && material.air.length === 0) return null;
  return html`<h2>The last 24 hours in ${oneLine(chamber.id, 60)}</h2>
${setCoursePicture(chamber, material, asking, `day-${index}`)}`;
}

/** When each of its probes was last heard, in one line. */
function setHeard(chamber: Chamber, standing: Standing, asking: Asking): Markup {
  const { since } = wordsFor(asking);
  const said = asking.config.site.probes
    .filter(({ chamberId }) => chamberId === chamber.id)
    .map(({ id }) => {
      const heardAt = standing.probes.find((probe) => probe.id === id)?.heardAt ?? null;
      return `${id} ${heardAt === null ? "never" : `${since(Date.parse(heardAt))} ago`}`;
    });
  return html`<p class="quiet small">Heard: ${said.join("; ")}.</p>
`;
}

function setMail({ mail }: Standing): Markup | null {
  if (mail.waiting === 0 && mail.givenUp === 0) return null;
  const counts = [
    mail.waiting > 0 && `${mail.waiting} still waiting to be sent`,
    mail.givenUp > 0 && `${mail.givenUp} given up`,
  ].filter(Boolean);
  return html`<h2>Letters that have not arrived</h2>
<p>${capital(counts.join(", "))}.${mail.lastError && html` The mail server said: ${oneLine(mail.lastError, 300)}`}</p>
<p><a href="/letters">All letters</a></p>
`;
}
