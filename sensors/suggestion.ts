import type { TemperatureUnit } from "../shared/units.js";
import { parseDecimal } from "./decimal.js";
import { formatPointer } from "./json-pointer.js";
import { findLeaves, type Leaf } from "./number-leaves.js";
import { LARGEST_PAYLOAD_BYTES, parsePayload } from "./payload.js";
import { resolveSenml, type SenmlRecord } from "./senml.js";
import { readSensorTime } from "./sensor-time.js";
import { quoteToml } from "./toml-string.js";

/**
 * A `[[probe]]` entry to paste into the config, for a topic heard and one of its payloads.
 *
 * Place and chamber cannot be heard, so they are for the keeper to fill in, and so is what the
 * comments call a guess. The text is TOML of one line a key whatever the topic and the payload
 * hold.
 *
 * @param takenIds probe ids that the config has already
 * @returns null where nothing in the payload looks like a temperature or a humidity. Never throws.
 */
export function suggestProbe(
  topic: string,
  payload: Uint8Array,
  takenIds: readonly string[] = [],
): string | null {
  if (payload.byteLength > LARGEST_PAYLOAD_BYTES) return null;
  const { text, document } = parsePayload(payload);
  const lines =
    text === null
      ? null
      : (suggestNumber(text, topic) ??
        suggestSenml(document?.value) ??
        suggestJson(document?.value));
  if (lines === null) return null;
  return [
    "[[probe]]",
    `id = ${quoteToml(chooseId(topic, takenIds))}`,
    'chamber = "" # the id of its chamber',
    'place = "air" # or box, wall, room; outdoors goes without a chamber',
    `topic = ${quoteToml(topic)}`,
    ...lines,
    "interval_s = 60 # how often it speaks",
    "",
  ].join("\n");
}

/** The last two levels of the topic in lower case, with a number behind where that is taken. */
function chooseId(topic: string, takenIds: readonly string[]): string {
  const levels = topic.slice(-120).split("/").slice(-2).join("-");
  const words = levels.toLowerCase().match(/[a-z0-9]+/g) ?? ["probe"];
  const id = words.join("-").slice(0, 40).replace(/-$/, "");
  for (let number = 1; number <= takenIds.length; number++) {
    const numbered = number === 1 ? id : `${id}-${number}`;
    if (!takenIds.includes(numbered)) return numbered;
  }
  return takenIds.includes(id) ? `${id}-${takenIds.length + 1}` : id;
}

const TEMPERATURE_WORD = /temp|celsius|fahrenheit|kelvin|^t(?:_?[cfk])?$/i;
const HUMIDITY_WORD = /hum|moist|^rh$|^h$/i;
const TIME_WORD = /time|date|^ts$|^at$|^t$|taken|stamp/i;
const BATTERY_WORD = /batt/i;
/** Numbers that a sensor sends beside what it measures. */
const OTHER_WORD = /batt|volt|rssi|snr|link|lqi|signal|press|lux|light|id$|seq|count|uptime|chan/i;

function suggestNumber(text: string, topic: string): string[] | null {
  if (parseDecimal(text) === null) return null;
  const level = topic.split("/").findLast((l) => HUMIDITY_WORD.test(l) || TEMPERATURE_WORD.test(l));
  if (level !== undefined && HUMIDITY_WORD.test(level)) {
    return ['payload = "number"', 'quantity = "humidity"'];
  }
  return ['payload = "number"', 'quantity = "temperature"', unitLine(level ?? "", Number(text))];
}

function suggestSenml(document: unknown): string[] | null {
  const records = resolveSenml(document).records ?? [];
  const inUnit = (...units: string[]) => records.filter(({ unit }) => units.includes(unit ?? ""));
  const temperatures = inUnit("Cel", "K");
  const humidities = inUnit("%RH");
  if (temperatures.length === 0 && humidities.length === 0) return null;
  return [
    'payload = "senml"',
    ...senmlLine("temperature", temperatures),
    ...senmlLine("humidity", humidities),
    ...senmlLine("battery", inUnit("%EL")),
  ];
}

function senmlLine(key: string, records: readonly SenmlRecord[]): string[] {
  const names = new Set(records.map(({ name }) => name));
  const first = records[0];
  if (first === undefined) return [];
  const guess = names.size > 1 ? ` # a guess: the first of ${names.size} names` : "";
  return [`${key} = ${quoteToml(first.name)}${guess}`];
}

function suggestJson(document: unknown): string[] | null {
  const leaves = findLeaves(document).filter(({ path }) => path.length > 0);
  const numbers = leaves.filter(isMeasured);
  const humidity = numbers.find((leaf) => HUMIDITY_WORD.test(lastKey(leaf)) && isHumidity(leaf));
  const named = numbers.find((leaf) => TEMPERATURE_WORD.test(lastKey(leaf)));
  // By value alone: a fraction in the range of a fridge and its surroundings.
  const likely = numbers.find(
    (leaf) => leaf !== humidity && !Number.isInteger(leaf.value) && isTemperature(leaf),
  );
  const temperature = named ?? likely;
  if (temperature === undefined && humidity === undefined) return null;
  const time = leaves.find((leaf) => TIME_WORD.test(lastKey(leaf)) && isTime(leaf));
  const lines = ['payload = "json"'];
  if (temperature !== undefined) {
    const guess = named === undefined ? " # a guess by its value" : "";
    lines.push(`temperature = ${quoteToml(formatPointer(temperature.path))}${guess}`);
  }
  if (humidity !== undefined) lines.push(`humidity = ${quoteToml(formatPointer(humidity.path))}`);
  const battery = leaves.find((leaf) => BATTERY_WORD.test(lastKey(leaf)) && isBattery(leaf));
  if (battery !== undefined) lines.push(...batteryLines(battery));
  if (time !== undefined) lines.push(`time = ${quoteToml(formatPointer(time.path))}`);
  if (temperature !== undefined) lines.push(unitLine(lastKey(temperature), temperature.value));
  return lines;
}

/** The last key that says something: in "/temperature/value" or "/temp/0" the one before it. */
function lastKey({ path }: Leaf): string {
  return path.findLast((key) => !/^(?:\d+|v|val|value)$/i.test(key)) ?? "";
}

function isMeasured(leaf: Leaf): leaf is Leaf & { value: number } {
  return typeof leaf.value === "number" && !OTHER_WORD.test(lastKey(leaf));
}

function isBattery({ value }: Leaf): boolean {
  return typeof value === "number" && value >= 0 && value <= 100;
}

/** A small number with a fraction is a voltage rather than per cent. */
function batteryLines(leaf: Leaf): string[] {
  const line = `battery = ${quoteToml(formatPointer(leaf.path))}`;
  const value = Number(leaf.value);
  if (/volt|_v$/i.test(lastKey(leaf))) return [line, 'battery_unit = "V"'];
  if (Number.isInteger(value) || value > 5) return [line];
  return [line, 'battery_unit = "V" # a guess by its value'];
}

function isHumidity({ value }: Leaf): boolean {
  return typeof value === "number" && value >= 0 && value <= 105;
}

function isTemperature({ value }: Leaf): boolean {
  return typeof value === "number" && value >= -30 && value <= 45;
}

/** 2001 to 2100, and never a small number: seconds since power-on are no time of day. */
function isTime({ value }: Leaf): boolean {
  const time = readSensorTime(value);
  return time?.kind === "absolute" && time.atMs >= 1e12 && time.atMs < Date.UTC(2100, 0, 1);
}

function unitLine(key: string, value: number): string {
  const told = unitByName(key);
  if (told !== null) return `unit = "${told}"`;
  // A shed in summer stays under 45 °C and above 200 K, so beyond it another unit is likelier.
  if (value > 200) return 'unit = "K" # a guess by its value';
  if (value > 45) return 'unit = "F" # a guess by its value';
  return 'unit = "C" # a guess, unless the sensor says so; or F, K';
}

function unitByName(key: string): TemperatureUnit | null {
  if (/fahrenheit|_f$/i.test(key)) return "F";
  if (/kelvin|_k$/i.test(key)) return "K";
  return /celsius|_c$/i.test(key) ? "C" : null;
}
