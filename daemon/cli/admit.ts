import { randomInt } from "node:crypto";
import {
  chownSync,
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  readFileSync,
  renameSync,
  statSync,
  writeSync,
} from "node:fs";
import { dirname } from "node:path";
import { closest } from "fastest-levenshtein";
import { KnownError } from "../../shared/errors.js";
import { readHashes, writeHashes } from "../config/hashes-file.js";
import { loadConfig } from "../config.js";
import { hashPassword } from "../mqtt/password-hash.js";

/** Letters and digits that nobody takes for another when typing them into a board's program. */
const ALPHABET = "abcdefghjkmnpqrstuvwxyz23456789";
/** Four groups of five: 98 bits, which no network guesses; our choice. */
const GROUPS = 4;
const GROUP_CHARACTERS = 5;

/**
 * Make a password for a sensor, keep its hash in the config's `hashes_file` and print it once; or
 * take it away. The running Drowse reads the file at its next start.
 *
 * @throws {KnownError} WRONG_USE for a user that the config does not have, CONFIG_INVALID where it
 *   names no file or the file holds something else, STORE_UNWRITABLE where that can't be written
 */
export async function admit(
  configFile: string,
  user: string,
  { withdraw, json }: Readonly<{ withdraw?: boolean; json?: boolean }>,
): Promise<void> {
  const { broker, store } = loadConfig(configFile, { readSecrets: false });
  if (broker.kind !== "embedded" || broker.hashesFile === null)
    throw new KnownError(
      "CONFIG_INVALID",
      `${configFile} keeps no passwords of sensors: set hashes_file in [broker], beside embedded`,
    );
  const users = broker.sensors.map((sensor) => sensor.user);
  if (withdraw !== true && !users.includes(user)) throw unknownUser(user, users);
  const hashes = new Map(readFile(broker.hashesFile));
  const password = withdraw === true ? null : makePassword();
  if (password === null) hashes.delete(user);
  else hashes.set(user, await hashPassword(password));
  replaceFile(broker.hashesFile, writeHashes(hashes), store.folder);
  const text =
    password === null
      ? `${user} has no password any more. It is kept out once Drowse is started again.\n`
      : `${user}: ${password}\nIt is shown this once. It holds once Drowse is started again.\n`;
  process.stdout.write(json === true ? `${JSON.stringify({ user, password })}\n` : text);
}

function unknownUser(user: string, users: readonly string[]): KnownError {
  const near = users.length === 0 ? "there is none yet" : `the nearest is ${closest(user, users)}`;
  return new KnownError("WRONG_USE", `the config has no [[sensor]] with user "${user}"; ${near}`);
}

function makePassword(): string {
  const group = () =>
    Array.from({ length: GROUP_CHARACTERS }, () => ALPHABET[randomInt(ALPHABET.length)]).join("");
  return Array.from({ length: GROUPS }, group).join("-");
}

function readFile(file: string): ReadonlyMap<string, string> {
  if (!existsSync(file)) return new Map();
  const hashes = readHashes(readFileSync(file, "utf8"));
  if (hashes === null)
    throw new KnownError("CONFIG_INVALID", `${file} holds something else; move it aside first`);
  return hashes;
}

/** Whole or not at all, and readable by the one alone whose store it is. */
function replaceFile(file: string, text: string, storeFolder: string): void {
  const fresh = `${file}.new`;
  try {
    const descriptor = openSync(fresh, "w", 0o600);
    try {
      writeSync(descriptor, text);
      fsyncSync(descriptor);
    } finally {
      closeSync(descriptor);
    }
    // Written by root, it must still be read by the user that Drowse runs as.
    const owned = [storeFolder, file, dirname(file)].find((path) => existsSync(path))!;
    const { uid, gid } = statSync(owned);
    if (process.getuid?.() === 0) chownSync(fresh, uid, gid);
    renameSync(fresh, file);
  } catch (cause) {
    const message = `${file} can't be written (${(cause as Error).message}); run it as the user that may`;
    throw new KnownError("STORE_UNWRITABLE", message, { cause });
  }
}
