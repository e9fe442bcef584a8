import type { Excursion, Finding } from "../../../shared/excursion.js";
import { html, type Markup } from "../../html.js";
import { telling } from "../../letters/body.js";
import { adviceOf } from "../../letters/cause-advice.js";
import { comparedSentences, costFigures, lastedSentence } from "../../letters/finding-words.js";
import { placeWords } from "../../letters/letter-context.js";
import { oneLine } from "../../letters/one-line.js";
import { URGENCY_WORDS } from "../../letters/urgency-words.js";
import { gatherCourse, spanAround } from "../../season/gather-course.js";
import { excursionAddress, letterAddress, NOW } from "../address.js";
import { setPoints, setSection } from "../look/set-section.js";
import { setTable } from "../look/set-table.js";
import type { Asking, Page } from "../page.js";
import { bound, wordsFor } from "../words.js";
import { setCoursePicture } from "./course-picture.js";
import { capital, setAnswer } from "./event.js";
import { setForetold } from "./foretold.js";

/** The story of one excursion; posting to it acknowledges it. */
export const EXCURSION_PAGE: Page = {
  path: "/excursion/*",
  show(asking) {
    const excursion = asking.store.excursions.get(asking.parts["*"] ?? "");
    if (excursion === null) return null;
    const { name } = adviceOf(excursion.latest);
    return {
      title: `${capital(name)}, ${placeWords(excursion)}`,
      main: html`${setTop(excursion, asking)}${setDeeds(excursion)}${setCourse(excursion, asking)}${setCost(excursion, asking)}${setHistory(excursion, asking)}${setLetters(excursion, asking)}`,
    };
  },
  take(asking, { back }) {
    const id = asking.parts["*"] ?? "";
    if (asking.store.excursions.get(id) === null) return null;
    asking.store.excursions.acknowledge(id, asking.nowMs);
    return { goTo: back === "now" ? NOW : excursionAddress(id) };
  },
};

function setTop(excursion: Excursion, asking: Asking): Markup {
  const { urgency, startedAtMs, endedAtMs, latest } = excursion;
  const { name, direction, state, happened, wasSo } = adviceOf(latest);
  const { moment, since } = wordsFor(asking);
  const { site } = asking.config;
  const isOver = endedAtMs !== null;
  const when = isOver
    ? lastedSentence(startedAtMs, endedAtMs, site, asking.hourCycle)
    : html`It began at about ${moment(startedAtMs)} and has gone on for ${since(startedAtMs)}.`;
  return html`<div class="${direction && html`way ${direction}`}">
<h1>${capital(name)}: ${placeWords(excursion)}</h1>
<p class="said">${capital(state)}, ${isOver ? "over" : URGENCY_WORDS[urgency]}.</p>
</div>
<p>${isOver ? wasSo : happened} ${when}</p>
${setAnswer(excursion, asking, "story")}`;
}

/** Air, cocoons and humidity about the time, and the forecast made then against what came. */
function setCourse(excursion: Excursion, asking: Asking): Markup | null {
  const { config, store, nowMs } = asking;
  const chamber = config.site.chambers.find(({ id }) => id === excursion.chamberId);
  if (chamber === undefined) return null;
  const { startedAtMs, endedAtMs } = excursion;
  const span = spanAround({ startedAtMs, endedAtMs }, nowMs);
  const material = gatherCourse(store, config.site, chamber, span, nowMs);
  return html`${setCoursePicture(chamber, material, asking)}${setForetold(excursion, material.cocoons, asking)}`;
}

/** What to do while it lasts, at once; what to see to once it is over. */
function setDeeds({ endedAtMs, latest }: Excursion): Markup | null {
  const { steps, cautions, afterwards } = adviceOf(latest);
  if (endedAtMs !== null)
    return afterwards.length === 0
      ? null
      : html`<h2>To see to afterwards</h2>
${setPoints(afterwards)}`;
  return html`<h2>Step by step</h2>
<ol>
${steps.map((step) => html`<li>${bound(step)}</li>\n`)}</ol>
${cautions.length > 0 && html`<h3>Take care</h3>\n`}${setPoints(cautions)}`;
}

function setCost({ latest }: Excursion, asking: Asking): Markup {
  const { site, temperatureUnit: unit } = asking.config;
  const figures = costFigures(latest, unit);
  const took =
    figures.length > 0
      ? { heading: "What it took", sentences: [], figures }
      : telling("What it took", "Nothing that shows in the cocoons' figures.");
  const compared = comparedSentences(latest, site, unit);
  const rests = compared.length > 0 && setSection(telling("What this rests on", ...compared));
  return html`${setSection(took)}${rests}`;
}

const CHANGES: Readonly<Record<Finding["change"], string>> = {
  opened: "it was told",
  raised: "more was known",
  ended: "it was over",
};

function setHistory(excursion: Excursion, asking: Asking): Markup {
  const { moment, degrees, percent } = wordsFor(asking);
  const rows = asking.store.excursions.history(excursion.id).map((finding) => {
    const { atMs, change, urgency, cocoonC, airC, humidityPct } = finding;
    const what = change === "ended" ? "" : `: ${adviceOf(finding).name}, ${URGENCY_WORDS[urgency]}`;
    return [
      moment(atMs),
      `${CHANGES[change]}${what}`,
      degrees(cocoonC),
      degrees(airC),
      percent(humidityPct),
    ];
  });
  return html`<h2>How it went</h2>
${setTable(
  "What was found, and when",
  [
    { head: "When" },
    { head: "What", kind: "long" },
    { head: "Cocoons", kind: "number" },
    { head: "Air", kind: "number" },
    { head: "Humidity", kind: "number" },
  ],
  rows,
)}`;
}

function setLetters(excursion: Excursion, asking: Asking): Markup | null {
  const letters = asking.store.letters.ofExcursion(excursion.id);
  if (letters.length === 0) return null;
  const { moment } = wordsFor(asking);
  const lines = letters.map(
    ({ id, subject, createdAtMs }) =>
      html`<li><a href="${letterAddress(id)}">${oneLine(subject)}</a>, ${moment(createdAtMs)}</li>\n`,
  );
  return html`<h2>Letters on it</h2>
<ul>
${lines}</ul>
`;
}
