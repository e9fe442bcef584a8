import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { type Fault, type RawTable, valueAt } from "./fault.js";
import { readSecret } from "./secret-file.js";

const KEYS = [
  "broker.password_file",
  "broker.ca_file",
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
    const found = key.endsWith(".ca_file") ? readCertificate(file) : readSecret(file);
    const fault = "fault" in found ? found.fault : shortnessOf(key, found.text);
    if (fault === null && "text" in found) return found.text;
    if (fault !== null) faults.push({ path, expected: fault });
    return null;
  };
  return Object.fromEntries(KEYS.map((key) => [key, read(key)])) as NamedFiles;
}

/** NIST SP 800-63B (2017), section 5.1.1.2: a secret that a person chose has 8 characters or more. */
const PASSPHRASE_LEAST = 8;

function shortnessOf(key: (typeof KEYS)[number], secret: string): string | null {
  const isShort = key === "page.passphrase_file" && secret.length < PASSPHRASE_LEAST;
  return isShort ? `expected a passphrase of ${PASSPHRASE_LEAST} characters or more` : null;
}

function readCertificate(file: string): { text: string } | { fault: string } {
  try {
    const text = readFileSync(file, "utf8");
    if (text.includes("-----BEGIN CERTIFICATE-----")) return { text };
    return { fault: `${file} holds no certificate in PEM (RFC 7468)` };
  } catch (cause) {
    return { fault: `${file} cannot be read: ${(cause as Error).message}` };
  }
}
