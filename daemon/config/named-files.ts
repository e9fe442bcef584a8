import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { type Fault, type RawTable, valueAt } from "./fault.js";
import { findHashFault } from "./hashes-file.js";
import { readSecret, readWholeSecret, type Secret } from "./secret-file.js";

const KEYS = [
  "broker.password_file",
  "broker.ca_file",
  "broker.cert_file",
  "broker.key_file",
  "broker.hashes_file",
  "heartbeat.secret_file",
  "mail.password_file",
  "mail.ca_file",
  "page.passphrase_file",
] as const;

/** What the files that a config names hold; null where it names none. */
export type NamedFiles = Readonly<Record<(typeof KEYS)[number], string | null>>;

/**
 * Read every file that a config names, counting paths from `folder`.
 *
 * Reads the raw TOML, so that a typo elsewhere does not hide a password file that is missing.
 */
export function readNamedFiles(raw: RawTable, folder: string, faults: Fault[]): NamedFiles {
  const read = (key: (typeof KEYS)[number]): string | null => {
    const path = key.split(".");
    const name = valueAt(raw, path);
    // What is no text at all is told by the sections.
    if (typeof name !== "string" || name.trim() === "") return null;
    const file = resolve(folder, name);
    const found = readOfKind(key, file);
    const fault = "fault" in found ? found.fault : faultOf(key, found.text, file, raw);
    if (fault === null && "text" in found) return found.text;
    if (fault !== null) faults.push({ path, expected: fault });
    return null;
  };
  return Object.fromEntries(KEYS.map((key) => [key, read(key)])) as NamedFiles;
}

/** NIST SP 800-63B (2017), section 5.1.1.2: a secret that a person chose has 8 characters or more. */
const PASSPHRASE_LEAST = 8;
/** 16 characters of a random alphabet are 80 bits or more; our choice. */
const HEARTBEAT_SECRET_LEAST = 16;

function readOfKind(key: (typeof KEYS)[number], file: string): Secret {
  if (key === "broker.ca_file" || key === "mail.ca_file" || key === "broker.cert_file")
    return readCertificate(file);
  const isWhole = key === "broker.key_file" || key === "broker.hashes_file";
  return isWhole ? readWholeSecret(file) : readSecret(file);
}

function faultOf(
  key: (typeof KEYS)[number],
  secret: string,
  file: string,
  raw: RawTable,
): string | null {
  if (key === "broker.key_file" && !secret.includes("PRIVATE KEY-----"))
    return `${file} holds no private key in PEM (RFC 7468)`;
  if (key === "broker.hashes_file") return findHashFault(secret, usersOf(raw));
  if (key === "heartbeat.secret_file" && secret.length < HEARTBEAT_SECRET_LEAST)
    return `expected a secret of ${HEARTBEAT_SECRET_LEAST} characters or more`;
  const isShort = key === "page.passphrase_file" && secret.length < PASSPHRASE_LEAST;
  return isShort ? `expected a passphrase of ${PASSPHRASE_LEAST} characters or more` : null;
}

function usersOf({ sensor }: RawTable): string[] {
  const users = Array.isArray(sensor) ? sensor.map((one) => valueAt(one, ["user"])) : [];
  return users.filter((user) => typeof user === "string");
}

function readCertificate(file: string): Secret {
  try {
    const text = readFileSync(file, "utf8");
    if (text.includes("-----BEGIN CERTIFICATE-----")) return { text };
    return { fault: `${file} holds no certificate in PEM (RFC 7468)` };
  } catch (cause) {
    return { fault: `${file} cannot be read: ${(cause as Error).message}` };
  }
}
