import { dirname, join, resolve } from "node:path";
import { ownProfile, profileOf } from "../../rules/species.js";
import type { ProbeSource } from "../../sensors/source.js";
import type { Chamber, ClimateLimits, Probe, Site } from "../../shared/site.js";
import type { SpeciesProfile } from "../../shared/species.js";
import { HOUR_MS, MINUTE_MS, SECOND_MS } from "../../shared/time.js";
import type { Config, MailConfig } from "../config.js";
import { splitListen } from "./fields.js";
import { readHashes } from "./hashes-file.js";
import type { NamedFiles } from "./named-files.js";
import {
  type ChamberSection,
  type ProbeSection,
  type Sections,
  type SpeciesSection,
  WEEKDAYS,
} from "./sections.js";

/**
 * Turn checked sections into the config that the rest of Drowse reads. Paths in it count from
 * the folder of the config, so that a service and a shell mean the same file.
 */
export function assembleConfig(sections: Sections, file: string, named: NamedFiles): Config {
  const { site, store, digest, year, release } = sections;
  return {
    file,
    site: toSite(sections),
    sources: sections.probe.map(toSource),
    care: sections.probe.map(({ id, check_every_months: checkEveryMonths }) => ({
      probeId: id,
      checkEveryMonths,
    })),
    temperatureUnit: site.temperature_unit,
    keepers: site.keepers,
    broker: toBroker(sections, dirname(file), named),
    heartbeat: toHeartbeat(sections, named),
    store: {
      folder: resolve(dirname(file), store.folder),
      groupCount: store.group_readings,
      groupMs: store.group_s * SECOND_MS,
      keepReadingsDays: store.keep_readings_days ?? null,
      copiesFolder: resolve(dirname(file), store.copies_folder ?? join(store.folder, "copies")),
      copyTime: store.copy_time === "never" ? null : store.copy_time,
    },
    mail: sections.mail === undefined ? null : toMail(sections.mail, named),
    digest: { weekday: WEEKDAYS.indexOf(digest.weekday), time: digest.time },
    page: toPage(sections, named),
    year: { inspectDays: year.inspect_days, weighDays: year.weigh_days },
    release: {
      warmC: release.warm_c,
      warmDays: release.warm_days,
      conditions: release.conditions,
      malesAheadDays: release.males_ahead_days,
      stageDays: release.stage_days,
    },
  };
}

function toSite({ site, chamber, probe, species }: Sections): Site {
  const own = species.map(toProfile);
  return {
    name: site.name,
    timezone: site.timezone,
    chambers: chamber.map((section) => toChamber(section, own)),
    probes: probe.map(toProbe),
    ...(own.length > 0 && { ownSpecies: own }),
  };
}

function toProfile(section: SpeciesSection): SpeciesProfile {
  const values = {
    bandC: section.band_c,
    humidityBandPct: section.humidity_band_pct,
    chillBelowC: section.chill_below_c,
    chillDaysLeast: section.chill_days_least,
    chillDaysBest: section.chill_days_best,
    storageDays: section.storage_days,
    emergenceDays: section.emergence_days,
    emergenceAtC: section.emergence_at_c,
  };
  return ownProfile(section.id, section.name ?? section.id, values, section.like);
}

function toChamber(section: ChamberSection, own: readonly SpeciesProfile[]): Chamber {
  const { id, species, band_c, humidity_band_pct, cocoon_lag_min } = section;
  const profile = profileOf(species, own);
  return {
    id,
    species,
    ...(own.includes(profile) && { ownProfile: profile }),
    bandC: band_c ?? profile.bandC.value,
    humidityBandPct: humidity_band_pct ?? profile.humidityBandPct.value,
    cocoonLagMs: cocoon_lag_min === undefined ? null : cocoon_lag_min * MINUTE_MS,
    climate: toClimate(section),
  };
}

function toClimate(section: ChamberSection): ClimateLimits {
  return {
    dampPct: section.damp_limits_pct,
    dampHoldMs: section.damp_hold_h * HOUR_MS,
    wetHoldMs: section.wet_hold_h * HOUR_MS,
    mouldIndex: section.mould_limits,
    mouldMaterial: section.mould_material,
    dryHoldMs: section.dry_hold_h * HOUR_MS,
    dampingExplainsMs: section.damping_explains_h * HOUR_MS,
  };
}

function toProbe({ id, chamber, place, interval_s }: ProbeSection): Probe {
  return { id, chamberId: chamber ?? null, place, intervalMs: interval_s * SECOND_MS };
}

function toSource(probe: ProbeSection): ProbeSource {
  const { id, topic, payload, unit } = probe;
  return {
    probeId: id,
    topic,
    payload,
    temperature: probe.temperature ?? null,
    humidity: probe.humidity ?? null,
    time: probe.time ?? null,
    unit,
    quantity: probe.quantity ?? "temperature",
    ...(probe.battery !== undefined && {
      battery: { at: probe.battery, unit: probe.battery_unit, low: probe.battery_low ?? null },
    }),
  };
}

function toBroker(sections: Sections, folder: string, named: NamedFiles): Config["broker"] {
  const { site, broker } = sections;
  const user = broker.user ?? null;
  const password = named["broker.password_file"];
  const stateTopic = broker.state_topic ?? null;
  if (broker.url === undefined) {
    const [cert, key] = [named["broker.cert_file"], named["broker.key_file"]];
    const hashes = readHashes(named["broker.hashes_file"] ?? "") ?? new Map();
    return {
      kind: "embedded",
      ...splitListen(broker.embedded ?? "")!,
      user,
      password,
      sensors: sections.sensor.map((s) => ({ ...s, hash: hashes.get(s.user) ?? null })),
      hashesFile: broker.hashes_file === undefined ? null : resolve(folder, broker.hashes_file),
      tls: cert === null || key === null ? null : { cert, key },
      stateTopic,
    };
  }
  return {
    kind: "outside",
    url: broker.url,
    user,
    password,
    ca: named["broker.ca_file"],
    clientId: broker.client_id ?? clientIdFor(site.name),
    stateTopic,
    protocolVersion: broker.protocol === "3.1.1" ? 4 : 5,
  };
}

/**
 * The same at every start, since the broker keeps the session under it.
 * MQTT 3.1.1, section 3.1.3.1: any server takes 1 to 23 bytes.
 */
function clientIdFor(siteName: string): string {
  return `drowse-${siteName.toLowerCase().replace(/[^a-z0-9]+/g, "")}`.slice(0, 23);
}

function toMail(mail: NonNullable<Sections["mail"]>, named: NamedFiles): MailConfig {
  // RFC 8314, section 3.3: 465 is TLS from the first byte; 587 begins in the clear.
  const security = mail.security ?? (mail.port === 465 ? "tls" : "starttls");
  return {
    host: mail.host,
    port: mail.port ?? { tls: 465, starttls: 587, none: 25 }[security],
    security,
    user: mail.user ?? null,
    password: named["mail.password_file"],
    ca: named["mail.ca_file"],
    from: mail.from,
  };
}

function toHeartbeat({ heartbeat }: Sections, named: NamedFiles): Config["heartbeat"] {
  if (heartbeat === undefined) return null;
  const secret = named["heartbeat.secret_file"];
  return { url: heartbeat.url, secret, everyMs: heartbeat.every_min * MINUTE_MS };
}

function toPage({ page }: Sections, named: NamedFiles): Config["page"] {
  if (page === undefined) return null;
  const passphrase = named["page.passphrase_file"];
  return { ...splitListen(page.listen)!, passphrase, names: page.names };
}
