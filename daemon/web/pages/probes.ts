import type { Probe } from "../../../shared/site.js";
import { html, type Markup } from "../../html.js";
import { oneLine } from "../../letters/one-line.js";
import { durationWords } from "../../letters/time-words.js";
import {
  addedWords,
  cameWords,
  checkedWords,
  doubtSentences,
  dueWords,
  levelWords,
} from "../../probes/probe-words.js";
import { gatherProbes, lastWeek, type ProbeStanding } from "../../probes/standing.js";
import type { Heard } from "../../store/store.js";
import { ledgerLine } from "../look/set-section.js";
import { setTable } from "../look/set-table.js";
import type { Asking, Page } from "../page.js";
import { wordsFor } from "../words.js";
import { setChecksMade } from "./checks-made.js";

/** Where each probe lies, what it last said, and what was heard that no probe could use. */
export const PROBES_PAGE: Page = {
  path: "/probes",
  word: "Probes",
  show(asking) {
    return {
      title: "Probes",
      main: html`<h1>Probes</h1>
${setProbes(asking)}${setChecksMade(asking)}${setUnread(asking)}`,
    };
  },
};

function setProbes(asking: Asking): Markup {
  const { config, store, nowMs } = asking;
  const { probes } = config.site;
  if (probes.length === 0)
    return html`<p>No probe is named in the config yet.</p>
`;
  const standings = gatherProbes(store, config.site, nowMs, lastWeek(nowMs));
  return html`<div class="columns">
${probes.map((probe, i) => setProbe(probe, standings[i]!, asking))}</div>
`;
}

function setProbe(
  { id, place, chamberId, intervalMs }: Probe,
  standing: ProbeStanding,
  asking: Asking,
): Markup {
  const { config, nowMs } = asking;
  const { degrees, percent, since } = wordsFor(asking);
  const { latest, battery } = standing;
  const { timezone } = config.site;
  const unit = config.temperatureUnit;
  const topic = config.sources.find(({ probeId }) => probeId === id)?.topic ?? "";
  const lines: (readonly [string, string])[] = [
    ["Place", chamberId === null ? place : `${place}, ${chamberId}`],
    ["Heard", latest === null ? "never" : `${since(latest.takenAtMs)} ago`],
  ];
  if (latest !== null && latest.temperatureC !== null)
    lines.push(["Temperature", degrees(latest.temperatureC)]);
  if (latest !== null && latest.humidityPct !== null)
    lines.push(["Humidity", percent(latest.humidityPct)]);
  lines.push(
    ["Added by checks", addedWords(standing, unit)],
    ["Came in seven days", cameWords(standing)],
    ["Last checked", checkedWords(standing, timezone)],
    ["Check due", dueWords(standing, timezone)],
    ...(battery === null ? [] : [["Battery", levelWords(battery.value, battery.unit)] as const]),
    ["Meant to speak", `every ${durationWords(intervalMs)}`],
    ["Topic", oneLine(topic)],
  );
  const doubts = doubtSentences(standing, { unit, timezone, nowMs });
  return html`<section>
<h2>${id}</h2>
<dl class="ledger">
${lines.map(([label, value]) => ledgerLine(label, value))}</dl>
${doubts.map(
  (doubt) => html`<p>${doubt}</p>
`,
)}</section>
`;
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
