import { html, type Markup } from "../../html.js";
import { oneLine } from "../../letters/one-line.js";
import { durationWords } from "../../letters/time-words.js";
import type { Heard } from "../../store/store.js";
import { setTable } from "../look/set-table.js";
import type { Asking, Page } from "../page.js";
import { wordsFor } from "../words.js";

/** Where each probe lies, what it last said, and what was heard that no probe could use. */
export const PROBES_PAGE: Page = {
  path: "/probes",
  word: "Probes",
  show(asking) {
    return {
      title: "Probes",
      main: html`<h1>Probes</h1>
${setProbes(asking)}${setUnread(asking)}`,
    };
  },
};

function setProbes(asking: Asking): Markup {
  const { config, store } = asking;
  const { degrees, percent, since } = wordsFor(asking);
  const rows = config.site.probes.map(({ id, place, chamberId, intervalMs }) => {
    const latest = store.readings.latest(id);
    const topic = config.sources.find(({ probeId }) => probeId === id)?.topic ?? "";
    return [
      id,
      chamberId === null ? place : `${place}, ${chamberId}`,
      latest === null ? "never" : `${since(latest.takenAtMs)} ago`,
      latest === null || latest.temperatureC === null ? "" : degrees(latest.temperatureC),
      latest === null || latest.humidityPct === null ? "" : percent(latest.humidityPct),
      durationWords(intervalMs),
      oneLine(topic),
    ];
  });
  if (rows.length === 0)
    return html`<p>No probe is named in the config yet.</p>
`;
  return setTable(
    "What each probe last said",
    [
      { head: "Probe" },
      { head: "Place" },
      { head: "Heard" },
      { head: "Temperature", kind: "number" },
      { head: "Humidity", kind: "number" },
      { head: "Meant to speak every" },
      { head: "Topic", kind: "long" },
    ],
    rows,
  );
}

function setUnread(asking: Asking): Markup | null {
  const { since } = wordsFor(asking);
  const unread = asking.store.heard.list().filter(({ outcome }) => outcome !== "reading");
  if (unread.length === 0) return null;
  const rows = unread.map(({ topic, probeId, outcome, count, lastAtMs, sample }: Heard) => [
    oneLine(topic),
    probeId ?? "",
    outcome,
    count,
    `${since(lastAtMs)} ago`,
    oneLine(sample),
  ]);
  return html`<h2>Messages that became no reading</h2>
<p>Nothing here stops anything. <code>drowse hear</code> writes an entry to paste for each topic that no probe claims.</p>
${setTable(
  "Messages not read, or only in part",
  [
    { head: "Topic", kind: "long" },
    { head: "Probe" },
    { head: "Outcome" },
    { head: "How many", kind: "number" },
    { head: "Last" },
    { head: "What stood in it", kind: "long" },
  ],
  rows,
)}`;
}
