import { parse } from "smol-toml";
import { isPasswordHash } from "../mqtt/password-hash.js";

/**
 * The hashed passwords of sensors, by user, from the text of the file that `drowse admit` writes:
 * TOML, a line for each user.
 *
 * @returns null where the text is none such. Never throws.
 */
export function readHashes(text: string): ReadonlyMap<string, string> | null {
  try {
    const entries = Object.entries(parse(text));
    const isSound = (entry: [string, unknown]): entry is [string, string] =>
      typeof entry[1] === "string" && isPasswordHash(entry[1]);
    return entries.every(isSound) ? new Map(entries as [string, string][]) : null;
  } catch {
    return null;
  }
}

/** The text of such a file; users are ids, and so are keys of TOML as they stand. */
export function writeHashes(hashes: ReadonlyMap<string, string>): string {
  const lines = [...hashes].map(([user, hash]) => `${user} = "${hash}"\n`);
  return `# Hashed passwords of sensors; drowse admit writes this file.\n${lines.join("")}`;
}

/** Why the file's text does not serve these users, or null. */
export function findHashFault(text: string, users: readonly string[]): string | null {
  const hashes = readHashes(text);
  if (hashes === null) return "holds no hashed passwords; drowse admit writes it";
  const missing = users.filter((user) => !hashes.has(user));
  if (missing.length === 0) return null;
  return `has no password of ${missing.join(", ")}; drowse admit ${missing[0]} makes one`;
}
