import { randomBytes, scrypt, timingSafeEqual } from "node:crypto";

/*
 * Passwords of sensors as they are kept: scrypt (RFC 7914) in the PHC string format,
 * `$scrypt$ln=14,r=8,p=1$SALT$HASH` with both in base64 without padding.
 */

/** log2 of N: 16 MB and some 50 ms for each try; our choice, for a board of 512 MB. */
const COST_LOG2 = 14;
const BLOCK = 8;
const SALT_BYTES = 16;
const HASH_BYTES = 32;

const FORMAT = /^\$scrypt\$ln=(1[0-6]),r=8,p=1\$([A-Za-z0-9+/]{11,86})\$([A-Za-z0-9+/]{43})$/;

/** Whether a text is such a hash, of a cost that this machine can be asked to bear. */
export function isPasswordHash(text: string): boolean {
  return FORMAT.test(text);
}

/** Hash a new password with a salt of its own. */
export async function hashPassword(password: string): Promise<string> {
  const salt = randomBytes(SALT_BYTES);
  const hash = await derive(Buffer.from(password), salt, COST_LOG2);
  return `$scrypt$ln=${COST_LOG2},r=${BLOCK},p=1$${unpadded(salt)}$${unpadded(hash)}`;
}

/** Whether a password is the hashed one, in a time that does not depend on how it is wrong. */
export async function isPasswordOf(password: Uint8Array, hash: string): Promise<boolean> {
  const parts = FORMAT.exec(hash);
  if (parts === null) return false;
  const [, cost, salt, wanted] = parts;
  const given = await derive(password, Buffer.from(salt!, "base64"), Number(cost));
  return timingSafeEqual(given, Buffer.from(wanted!, "base64"));
}

function derive(password: Uint8Array, salt: Uint8Array, costLog2: number): Promise<Buffer> {
  const cost = { N: 2 ** costLog2, r: BLOCK, p: 1, maxmem: 256 * BLOCK * 2 ** costLog2 };
  return new Promise((resolve, reject) =>
    scrypt(password, salt, HASH_BYTES, cost, (error, hash) =>
      error === null ? resolve(hash) : reject(error),
    ),
  );
}

const unpadded = (bytes: Buffer) => bytes.toString("base64").replace(/=+$/, "");
