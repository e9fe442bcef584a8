import type { Excursion } from "../../../shared/excursion.js";
import { MINUTE_MS } from "../../../shared/time.js";
import type { Course } from "../../drawing/material.js";
import { html, type Markup } from "../../html.js";
import { forecastWords } from "../../letters/forecast-words.js";
import { limitWords } from "../../letters/temperature-words.js";
import { type Outcome, whatCame } from "../../season/what-came.js";
import { setTable } from "../look/set-table.js";
import type { Asking } from "../page.js";
import { bound, wordsFor } from "../words.js";

const VERDICTS: Readonly<Record<Outcome["verdict"], string>> = {
  "as-foretold": "as foretold",
  sooner: "sooner than foretold",
  later: "later than foretold",
  "over-first": "not reached: it was over before",
  ahead: "still ahead",
  "not-seen": "not seen",
};

/** The first forecast that was made, as the letter told it, against what came. */
export function setForetold(excursion: Excursion, cocoons: Course, asking: Asking): Markup | null {
  const { config, store, nowMs } = asking;
  const unit = config.temperatureUnit;
  const made = store.excursions
    .history(excursion.id)
    .find(({ forecast, change }) => forecast !== null && change !== "ended");
  if (made === undefined || made.forecast === null) return null;
  const { moment } = wordsFor(asking);
  const told = { atMs: made.atMs, cocoonC: made.cocoonC, forecast: made.forecast };
  const outcomes = whatCame(told, cocoons, excursion.endedAtMs, nowMs);
  const words = forecastWords(made.forecast, made.cocoonC, unit);
  const table =
    outcomes.length > 0 &&
    setTable(
      "What was foretold against what came",
      [{ head: "Cocoons at" }, { head: "Foretold", kind: "long" }, { head: "Came", kind: "long" }],
      outcomes.map((one) => [
        bound(limitWords(one.targetC, unit)),
        setGate(one, asking),
        setOutcome(one, asking),
      ]),
    );
  return html`<h2>What was foretold</h2>
<p>At ${moment(made.atMs)} the letter said: ${bound(words.join(" "))}</p>
${table}`;
}

function setGate({ soonestMs, latestMs }: Outcome, asking: Asking): Markup {
  const { moment, stretch } = wordsFor(asking);
  return latestMs === null
    ? html`from ${moment(soonestMs)}, or never`
    : latestMs - soonestMs < MINUTE_MS
      ? html`about ${moment(soonestMs)}`
      : html`${stretch(soonestMs, latestMs)}`;
}

function setOutcome({ cameMs, verdict, latestMs }: Outcome, asking: Asking): Markup {
  const words = verdict === "later" && cameMs === null ? "not reached by then" : VERDICTS[verdict];
  // One that might never come was foretold either way.
  const told = latestMs === null && verdict === "over-first" ? "not reached, as it may be" : words;
  return cameMs === null ? html`${told}` : html`${wordsFor(asking).moment(cameMs)}, ${words}`;
}
