import type { BatteryUnit } from "../../sensors/battery.js";
import { DAY_MS } from "../../shared/time.js";
import { differenceWords } from "../checks/words.js";
import { shareWords } from "../digest/reason-words.js";
import { adviceOf } from "../letters/cause-advice.js";
import { saidClause } from "../letters/finding-words.js";
import { oneLine } from "../letters/one-line.js";
import {
  numberWords,
  type TemperatureUnit,
  temperatureWords,
} from "../letters/temperature-words.js";
import { dateWords, durationWords } from "../letters/time-words.js";
import { isLow } from "./battery.js";
import type { ProbeStanding } from "./standing.js";

/** How it is said: in whose unit, zone and as of when. */
export type ProbeWording = Readonly<{ unit: TemperatureUnit; timezone: string; nowMs: number }>;

const NEVER = "never";

/** The newest values, corrected: "2.3 °C 66 %"; empty before the first. */
export function valuesWords({ latest }: ProbeStanding, unit: TemperatureUnit): string {
  if (latest === null) return "";
  const { temperatureC, humidityPct } = latest;
  return [
    ...(temperatureC === null ? [] : [temperatureWords(temperatureC, unit)]),
    ...(humidityPct === null ? [] : [`${numberWords(humidityPct, 0)} %`]),
  ].join(" ");
}

/** The share of expected readings: "98 %", "not known". */
export const cameWords = ({ heardShare }: ProbeStanding): string =>
  heardShare === null ? "not known" : shareWords(heardShare);

/** What checks add to the values: "−0.31 °C", "+0.20 °C −2.1 %RH", "nothing". */
export function addedWords({ corrections }: ProbeStanding, unit: TemperatureUnit): string {
  const words = (["temperature", "humidity"] as const).flatMap((quantity) => {
    const held = corrections[quantity];
    if (held === null) return [];
    const size = differenceWords(Math.abs(held.added), { quantity, unit });
    return [`${held.added < 0 ? "\u2212" : "+"}${size}`];
  });
  return words.length === 0 ? "nothing" : words.join(" ");
}

/** The same in a sentence: "corrected by −0.31 °C", "not corrected". */
export function correctedWords(standing: ProbeStanding, unit: TemperatureUnit): string {
  const { temperature, humidity } = standing.corrections;
  if (temperature === null && humidity === null) return "not corrected";
  return `corrected by ${addedWords(standing, unit)}`;
}

/** Day of the last check, in full: "3 October 2025", "never". */
export const checkedWords = ({ check }: ProbeStanding, timezone: string): string =>
  check === null ? NEVER : dateWords(check.lastMs, timezone);

/** Day on which the next is due: "3 October 2026", "now". */
export const dueWords = ({ check }: ProbeStanding, timezone: string): string =>
  check === null ? "now" : dateWords(check.dueMs, timezone);

/** All that speaks against a probe, in whole sentences without its name; empty where nothing does. */
export function doubtSentences(standing: ProbeStanding, wording: ProbeWording): string[] {
  return [...faultSentences(standing, wording), ...trustSentences(standing, wording)];
}

/** What its battery and its checks say against it, and that they are late. */
export function trustSentences(
  standing: ProbeStanding,
  { unit, timezone }: Pick<ProbeWording, "unit" | "timezone">,
): string[] {
  return [
    ...batterySentences(standing, timezone),
    ...driftSentences(standing, unit),
    ...overdueSentences(standing, timezone),
  ];
}

/** A battery's level: "12 %", "19.9 %", "2.95 V". */
export function levelWords(value: number, unit: BatteryUnit): string {
  const digits = unit === "V" ? 2 : Number.isInteger(value) ? 0 : 1;
  return `${numberWords(value, digits)} ${unit}`;
}

function batterySentences({ battery }: ProbeStanding, timezone: string): string[] {
  if (battery === null || !isLow(battery)) return [];
  const { value, unit, low, atMs } = battery;
  const least = levelWords(low, unit);
  const said = `on ${dateWords(atMs, timezone)} it had ${levelWords(value, unit)}`;
  return [`Its battery is low: ${said}, and below ${least} it is time to change it.`];
}

function faultSentences({ faults }: ProbeStanding, { unit, timezone }: ProbeWording): string[] {
  return faults
    .filter(({ cause }) => cause !== "probe-mute")
    .map(({ latest, startedAtMs }) => {
      const since = dateWords(startedAtMs, timezone);
      const clause = saidClause(latest, unit);
      return `${sentence(adviceOf(latest).name)} since ${since}${clause === "" ? "" : `: ${clause}`}.`;
    });
}

function driftSentences({ drifts }: ProbeStanding, unit: TemperatureUnit): string[] {
  return drifts.map(({ check, drift }) => {
    const { moved, days, expanded } = drift!;
    const saying = { quantity: check.quantity, unit };
    const size = `${differenceWords(Math.abs(moved), saying)} (± ${differenceWords(expanded, saying)})`;
    const way = moved > 0 ? "more" : "less";
    const ago = days < 2 ? durationWords(days * DAY_MS) : `${Math.round(days)} days`;
    return `Drifted: showed ${size} ${way} at its last check than ${ago} before.`;
  });
}

function overdueSentences({ check, drifts }: ProbeStanding, timezone: string): string[] {
  if (check === null || !check.isOverdue) return [];
  const haste = drifts.length > 0 ? ", and it is one that drifts" : "";
  return [`Its check is overdue since ${dateWords(check.dueMs, timezone)}${haste}.`];
}

const sentence = (words: string): string => words.slice(0, 1).toUpperCase() + words.slice(1);

/** Which check the correction in force comes from; empty where there is none. */
export function correctionSources({ probeId, corrections }: ProbeStanding): string[] {
  return (["temperature", "humidity"] as const).flatMap((quantity) => {
    const held = corrections[quantity];
    return held === null ? [] : [`${oneLine(probeId, 60)} ${quantity}: ${held.checkId}`];
  });
}
