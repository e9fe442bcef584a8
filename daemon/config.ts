import { readFileSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { parse, TomlError } from "smol-toml";
import type { DueRule } from "../rules/year/due.js";
import type { ReleaseRule } from "../rules/year/release.js";
import type { PlanRule } from "../rules/year/release-plan.js";
import type { ProbeSource } from "../sensors/source.js";
import { KnownError } from "../shared/errors.js";
import type { Site } from "../shared/site.js";
import { findDisagreements } from "./config/agreement.js";
import { assembleConfig } from "./config/assemble.js";
import { describeFaults, type Fault } from "./config/fault.js";
import { findKeyLines } from "./config/key-lines.js";
import { readNamedFiles } from "./config/named-files.js";
import { checkSections } from "./config/sections.js";

/** The broker that Drowse runs itself. `port` 0 lets the system choose a free one. */
type EmbeddedBroker = Readonly<{
  kind: "embedded";
  host: string;
  port: number;
  /** Who may publish and read anything; null where `sensors` alone are let in, or anyone is. */
  user: string | null;
  password: string | null;
  sensors: readonly SensorRights[];
  /** Where the sensors' hashed passwords are; `sensors` is empty where there is none. */
  hashesFile: string | null;
  /** PEM of the certificate and of its key; null listens unencrypted. */
  tls: Readonly<{ cert: string; key: string }> | null;
  stateTopic: string | null;
}>;

/** Who may do what at the embedded broker. */
export type SensorRights = Readonly<{
  user: string;
  /** Hash of the password (see `password-hash.ts`); null where secrets were not read. */
  hash: string | null;
  /** Topic filters of what it may publish, and of what it may subscribe to. */
  publish: readonly string[];
  read: readonly string[];
}>;

/** A broker that somebody else runs. `ca` is the text of a PEM file. */
type OutsideBroker = Readonly<{
  kind: "outside";
  url: string;
  user: string | null;
  password: string | null;
  ca: string | null;
  clientId: string;
  stateTopic: string | null;
  /** 4 is MQTT 3.1.1, as that standard numbers itself on the wire. */
  protocolVersion: 4 | 5;
}>;

/** Where letters are handed over; null means that they are written as .eml files. */
export type MailConfig = Readonly<{
  host: string;
  port: number;
  security: "starttls" | "tls" | "none";
  user: string | null;
  password: string | null;
  /** PEM of an authority to trust beside the system's. */
  ca: string | null;
  from: string;
}>;

/** What the keeper owes a probe. */
type ProbeCare = Readonly<{ probeId: string; checkEveryMonths: number }>;

/** Where to say that Drowse is well, and how often. */
export type HeartbeatConfig = Readonly<{ url: string; secret: string | null; everyMs: number }>;

/** Everything `drowse.toml` says, checked, with its secrets read and its paths absolute. */
export type Config = Readonly<{
  file: string;
  site: Site;
  sources: readonly ProbeSource[];
  /** One for each probe, in the order of the site's. */
  care: readonly ProbeCare[];
  /** The unit of letters and pages; everything inside is °C. */
  temperatureUnit: "C" | "F";
  keepers: readonly string[];
  broker: EmbeddedBroker | OutsideBroker;
  heartbeat: HeartbeatConfig | null;
  store: Readonly<{
    folder: string;
    /** A group of readings is committed when either bound is met. */
    groupCount: number;
    groupMs: number;
    /** null keeps raw readings for ever. */
    keepReadingsDays: number | null;
    copiesFolder: string;
    /** HH:MM in the site's time zone; null where no copies are made by themselves. */
    copyTime: string | null;
  }>;
  mail: MailConfig | null;
  /** `weekday` 0 is Sunday; `time` is HH:MM in the site's time zone. */
  digest: Readonly<{ weekday: number; time: string }>;
  page: Readonly<{
    host: string;
    port: number;
    passphrase: string | null;
    /** Names by which browsers may ask for it, beside addresses and the machine's own. */
    names: readonly string[];
  }> | null;
  year: DueRule;
  release: ReleaseRule & PlanRule;
}>;

type LoadOptions = Readonly<{
  /** false leaves every password null and unchecked, for what needs none. */
  readSecrets?: boolean;
}>;

/**
 * Read and check a config file whole.
 *
 * @throws {KnownError} CONFIG_MISSING when there is no such file, CONFIG_INVALID naming every
 *   fault at once: its key, the value that arrived and what was expected
 */
export function loadConfig(file: string, options: LoadOptions = {}): Config {
  const path = resolve(file);
  const text = readText(path, file);
  const raw = parseToml(text, file);
  const faults: Fault[] = [];
  const sections = checkSections(raw, faults);
  findDisagreements(raw, faults);
  const wanted = options.readSecrets === false ? {} : raw;
  const named = readNamedFiles(wanted, dirname(path), faults);
  if (sections !== null && faults.length === 0) return assembleConfig(sections, path, named);
  throw new KnownError("CONFIG_INVALID", describeFaults(file, raw, findKeyLines(text), faults));
}

function readText(path: string, file: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch (cause) {
    const code = (cause as NodeJS.ErrnoException).code;
    if (code !== "ENOENT")
      throw new KnownError("CONFIG_INVALID", `reading ${file}: ${(cause as Error).message}`, {
        cause,
      });
    throw new KnownError(
      "CONFIG_MISSING",
      `no config file ${file}; to begin, copy deploy/drowse.toml to ${file} and edit it, ` +
        "name another with --config FILE, or see it all at work first with drowse rehearse",
      { cause },
    );
  }
}

function parseToml(text: string, file: string): Record<string, unknown> {
  try {
    return parse(text);
  } catch (cause) {
    if (!(cause instanceof TomlError)) throw cause;
    const reason = cause.message.split("\n")[0]?.replace(/^Invalid TOML document: /, "");
    throw new KnownError(
      "CONFIG_INVALID",
      `${file} line ${cause.line}, column ${cause.column}: not TOML, ${reason}`,
      { cause },
    );
  }
}
