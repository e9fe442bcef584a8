import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from "node:crypto";

/**
 * scrypt (RFC 7914) at a cost of 32 MiB and some tenths of a second on a small board. Our choice:
 * the hash is in memory only, so it has to slow down guesses and not a stolen table.
 */
const COST: ScryptOptions = { N: 2 ** 15, r: 8, p: 1, maxmem: 64 * 1024 * 1024 };
const HASH_BYTES = 32;
const SALT_BYTES = 16;
/** No one types more; what is longer is wrong without being hashed. */
const LONGEST = 1_024;

/** Tells whether a passphrase is the right one. */
export type Passphrase = Readonly<{ isRight(given: string): Promise<boolean> }>;

/**
 * Keep the hash of a passphrase. Guesses are hashed one after the other, so that however many come
 * at once they take one core and 32 MiB.
 */
export function keepPassphrase(passphrase: string): Passphrase {
  const salt = randomBytes(SALT_BYTES);
  const right = hash(passphrase, salt);
  let last: Promise<unknown> = right;
  return {
    isRight(given) {
      if (given.length > LONGEST) return Promise.resolve(false);
      const guess = last.then(() => hash(given, salt));
      last = guess;
      return Promise.all([right, guess]).then(([a, b]) => timingSafeEqual(a, b));
    },
  };
}

/** A phone and a desk may write the same letter in two ways: RFC 8265, section 4.2.1. */
function hash(passphrase: string, salt: Buffer): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    scrypt(passphrase.normalize("NFC"), salt, HASH_BYTES, COST, (error, key) =>
      error ? reject(error) : resolve(key),
    );
  });
}
