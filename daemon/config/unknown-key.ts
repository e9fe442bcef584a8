import { closest, distance } from "fastest-levenshtein";
import type { Fault, KeyPath } from "./fault.js";

type KnownKeys = Readonly<Record<string, readonly string[]>>;

/** A fault for a key that no table of that name has, with the one that was probably meant. */
export function suggestKey(path: KeyPath, known: KnownKeys): Fault {
  const key = String(path.at(-1));
  const table = path.length === 1 ? "" : String(path[0]);
  const here = known[table] ?? [];
  const expected = `unknown key, ${nearestWords(key, table, here, known)}`;
  // A password typed into the config must not reach a log through our own message.
  return looksSecret(key) ? { path, expected, shown: "(not shown)" } : { path, expected };
}

function looksSecret(key: string): boolean {
  const words = ["password", "passphrase", "passwd", "secret", "token"];
  const parts = key.toLowerCase().split(/[-_]/);
  return parts.some((part) => words.some((word) => distance(part, word) <= 2));
}

function nearestWords(
  key: string,
  table: string,
  here: readonly string[],
  known: KnownKeys,
): string {
  const secretKey = looksSecret(key) ? here.find((name) => /^pass.*_file$/.test(name)) : undefined;
  if (secretKey !== undefined)
    return `nearest known key: ${secretKey}, since secrets are read from files only`;
  const nearest = closest(key, [...here]);
  const elsewhere = Object.entries(known).find(
    ([name, keys]) => name !== table && keys.includes(key),
  );
  // A right key in the wrong table is likelier than a key misspelt beyond recognition.
  if (elsewhere !== undefined && distance(key, nearest) > 2)
    return elsewhere[0] === ""
      ? `[${key}] is a table of its own`
      : `${key} belongs in [${elsewhere[0]}]`;
  return `nearest known key: ${nearest}`;
}
