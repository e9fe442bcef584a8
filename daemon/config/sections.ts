import { z } from "zod";
import { USUAL_LIMITS } from "../../rules/climate-limits.js";
import { SPECIES_IDS } from "../../rules/species.js";
import { RELEASE_CONDITIONS } from "../../rules/year/release.js";
import { BATTERY_UNITS } from "../../sensors/battery.js";
import { MOULD_MATERIALS, PLACES } from "../../shared/site.js";
import { HOUR_MS } from "../../shared/time.js";
import type { Fault, KeyPath, RawTable } from "./fault.js";
import { isTable, valueAt } from "./fault.js";
import * as field from "./fields.js";
import { suggestKey } from "./unknown-key.js";

/** The days as a config names them, in the order of `Date.getDay`. */
export const WEEKDAYS = [
  "sunday",
  "monday",
  "tuesday",
  "wednesday",
  "thursday",
  "friday",
  "saturday",
] as const;

/** A list of at most `most` different things. */
function listOf<Item extends z.ZodType>(item: Item, least: number, most: number) {
  const error = `expected a list of ${least} to ${most}, none of them twice`;
  return z
    .array(item, { error })
    .refine((v) => v.length >= least && v.length <= most && new Set(v).size === v.length, {
      error,
    });
}

const site = z.strictObject({
  name: field.line,
  timezone: field.timezone,
  temperature_unit: field.oneOf(["C", "F"]).default("C"),
  keepers: listOf(field.address, 1, 20),
});

const broker = z.strictObject({
  embedded: field.listen.optional(),
  url: z.string({ error: "expected mqtt://HOST:PORT or mqtts://HOST:PORT" }).optional(),
  user: field.line.optional(),
  password_file: field.filePath.optional(),
  ca_file: field.filePath.optional(),
  plain_password: z.boolean({ error: "expected true or false" }).default(false),
  cert_file: field.filePath.optional(),
  key_file: field.filePath.optional(),
  hashes_file: field.filePath.optional(),
  state_topic: field.topicName.optional(),
  client_id: field.line.optional(),
  protocol: z
    .union([z.literal(5), z.literal("5"), z.literal("3.1.1")], { error: 'expected "3.1.1" or 5' })
    .default("3.1.1"),
});

const sensor = z.strictObject({
  user: field.id,
  publish: listOf(field.topicFilter, 0, 32).default([]),
  read: listOf(field.topicFilter, 0, 32).default([]),
});

const heartbeat = z.strictObject({
  url: field.webAddress,
  secret_file: field.filePath,
  // Our choice: dead for half an hour is soon enough beside a letter of silence in minutes.
  every_min: field.wholeFrom(1, 1440).default(10),
});

const store = z.strictObject({
  folder: field.filePath.default("state"),
  // Our choice: 32 readings, or a minute, cost a flash card little and a power cut nothing.
  group_readings: field.wholeFrom(1, 10_000).default(32),
  group_s: field.numberFrom(0, 600, "s").default(60),
  // Under two weeks the weekly digest could find its own week gone. Our choice.
  keep_readings_days: field.wholeFrom(14, 36_500).optional(),
  copies_folder: field.filePath.optional(),
  // Our choice: the hours in which nobody opens the fridge.
  copy_time: z
    .union([z.literal("never"), field.timeOfDay], {
      error: 'expected a time of day as HH:MM, for example 03:30, or "never"',
    })
    .default("03:30"),
});

const mail = z.strictObject({
  host: field.line,
  port: field.wholeFrom(1, 65_535).optional(),
  security: field.oneOf(["starttls", "tls", "none"]).optional(),
  user: field.line.optional(),
  password_file: field.filePath.optional(),
  ca_file: field.filePath.optional(),
  from: field.mailbox,
});

const digest = z.strictObject({
  weekday: field.oneOf(WEEKDAYS).default("sunday"),
  time: field.timeOfDay.default("07:00"),
});

const year = z.strictObject({
  // Each fortnight: common practice, no source.
  inspect_days: field.wholeFrom(1, 366).default(14),
  // Our choice: in a month a sample of thirty loses more than a pocket scale is off.
  weigh_days: field.wholeFrom(1, 366).default(30),
});

const release = z.strictObject({
  // 55 °F, and so many days in a row: common practice, no source.
  warm_c: field.numberFrom(0, 30, "°C").default(13),
  warm_days: field.wholeFrom(1, 30).default(3),
  conditions: listOf(field.oneOf(RELEASE_CONDITIONS), 1, 3).default([...RELEASE_CONDITIONS]),
  // Males emerge about a week before females outdoors (Kraemer and Favi 2010); ours is half of it.
  males_ahead_days: field.wholeFrom(0, 30).default(4),
  // From one lot to the next, so that one cold week does not meet them all: our choice.
  stage_days: field.wholeFrom(0, 60).default(7),
});

const page = z.strictObject({
  listen: field.listen.default("127.0.0.1:8377"),
  passphrase_file: field.filePath.optional(),
  names: listOf(field.hostName, 0, 20).default([]),
});

const bandC = field.spanFrom(-20, 25, "°C", "[1.1, 3.3]").optional();
const humidityBandPct = field.spanFrom(0, 100, "%RH", "[60, 70]").optional();

// What is left out here is as the table of rules/species.ts has it.
const species = z.strictObject({
  id: field.id,
  name: field.line.optional(),
  like: field.oneOf(SPECIES_IDS).optional(),
  band_c: bandC,
  humidity_band_pct: humidityBandPct,
  chill_below_c: field.numberFrom(-5, 15, "°C").optional(),
  chill_days_least: field.numberFrom(0, 366, "days").optional(),
  chill_days_best: field.spanFrom(0, 366, "days", "[90, 150]").optional(),
  storage_days: field.spanFrom(1, 366, "days", "[100, 200]").optional(),
  emergence_days: field.spanFrom(0.1, 90, "days", "[1, 7]").optional(),
  emergence_at_c: field.spanFrom(5, 40, "°C", "[21, 26]").optional(),
});

const chamber = z.strictObject({
  id: field.id,
  species: field.id.default("osmia-bicornis"),
  band_c: bandC,
  humidity_band_pct: humidityBandPct,
  cocoon_lag_min: field.numberFrom(0.1, 2880, "minutes").optional(),
  damp_limits_pct: field.spanFrom(0, 100, "%RH", "[80, 90]").default(USUAL_LIMITS.dampPct),
  damp_hold_h: field.numberFrom(0, 336, "hours").default(USUAL_LIMITS.dampHoldMs / HOUR_MS),
  wet_hold_h: field.numberFrom(0.5, 336, "hours").default(USUAL_LIMITS.wetHoldMs / HOUR_MS),
  mould_limits: field
    .spanFrom(0, 6, "of the mould index", "[0.5, 1]")
    .default(USUAL_LIMITS.mouldIndex),
  mould_material: field.oneOf(MOULD_MATERIALS).default(USUAL_LIMITS.mouldMaterial),
  dry_hold_h: field.numberFrom(0, 336, "hours").default(USUAL_LIMITS.dryHoldMs / HOUR_MS),
  damping_explains_h: field
    .numberFrom(0, 336, "hours")
    .default(USUAL_LIMITS.dampingExplainsMs / HOUR_MS),
});

const probe = z.strictObject({
  id: field.id,
  chamber: field.id.optional(),
  place: field.oneOf(PLACES),
  topic: field.topicFilter,
  payload: field.oneOf(["senml", "json", "number"]),
  temperature: z.string({ error: "expected a text" }).optional(),
  humidity: z.string({ error: "expected a text" }).optional(),
  time: z.string({ error: "expected a text" }).optional(),
  battery: z.string({ error: "expected a text" }).optional(),
  battery_unit: field.oneOf(BATTERY_UNITS).default("%"),
  // Left to sensors/battery.ts, which knows the unit that SenML names.
  battery_low: field.numberFrom(0, 100, "% or V").optional(),
  quantity: field.oneOf(["temperature", "humidity"]).optional(),
  unit: field.oneOf(["C", "F", "K"]).default("C"),
  interval_s: field.numberFrom(1, 86_400, "s").default(60),
  // Each autumn, before it is relied on: our choice.
  check_every_months: field.wholeFrom(1, 120).default(12),
});

const SCHEMAS = { site, broker, heartbeat, store, mail, digest, page, year, release };
const TABLES = z.strictObject({
  site,
  broker,
  sensor: z.array(sensor, { error: "expected [[sensor]] tables" }).max(100).default([]),
  heartbeat: heartbeat.optional(),
  store: store.prefault({}),
  mail: mail.optional(),
  digest: digest.prefault({}),
  page: page.optional(),
  year: year.prefault({}),
  release: release.prefault({}),
  species: z.array(species, { error: "expected [[species]] tables" }).max(20).default([]),
  chamber: z.array(chamber, { error: "expected [[chamber]] tables" }).max(64).default([]),
  probe: z.array(probe, { error: "expected [[probe]] tables" }).max(256).default([]),
});

/** A config whose every key is right by itself. */
export type Sections = z.infer<typeof TABLES>;
export type ProbeSection = z.infer<typeof probe>;
export type ChamberSection = z.infer<typeof chamber>;
export type SpeciesSection = z.infer<typeof species>;

/** The keys that each table may have, by the table's name; "" is the file itself. */
const KNOWN_KEYS: Readonly<Record<string, readonly string[]>> = {
  "": Object.keys(TABLES.shape),
  ...Object.fromEntries(Object.entries(SCHEMAS).map(([name, s]) => [name, Object.keys(s.shape)])),
  sensor: Object.keys(sensor.shape),
  species: Object.keys(species.shape),
  chamber: Object.keys(chamber.shape),
  probe: Object.keys(probe.shape),
};

/** Check every key by itself, adding what is wrong to `faults`; null when anything was. */
export function checkSections(raw: RawTable, faults: Fault[]): Sections | null {
  const result = TABLES.safeParse(raw);
  if (result.success) return result.data;
  for (const issue of result.error.issues) {
    const path = issue.path.filter((step) => typeof step !== "symbol") as KeyPath;
    if (issue.code === "unrecognized_keys")
      for (const key of issue.keys) faults.push(suggestKey([...path, key], KNOWN_KEYS));
    else faults.push({ path, expected: expectedAt(path, raw, issue.message) });
  }
  return null;
}

/** A table that is missing, or is no table, has no words of its own in the schema. */
function expectedAt(path: KeyPath, raw: RawTable, message: string): string {
  const name = path[0];
  const isWhole = path.length === 1 || (path.length === 2 && typeof path[1] === "number");
  if (!isWhole || typeof name !== "string" || isTable(valueAt(raw, path))) return message;
  const keys = KNOWN_KEYS[name];
  return keys === undefined ? message : `expected a table with ${keys.join(", ")}`;
}
