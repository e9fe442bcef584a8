import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { mkdir, open, rename, rm } from "node:fs/promises";
import { join } from "node:path";
import { createTransport } from "nodemailer";
import { KnownError } from "../../shared/errors.js";
import type { NewLetter } from "../store/store.js";
import { type DrawPictures, drawNothing } from "./draw-pictures.js";
import { messageOf, NOBODY } from "./message.js";

const transport = createTransport({ streamTransport: true, buffer: true, newline: "windows" });
const LONGEST_SLUG = 60;

/** The subject in lower-case ASCII words joined by hyphens, at most 60 characters. */
export function slugOf(subject: string): string {
  return subject
    .normalize("NFKD")
    .replace(/\p{M}+/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, LONGEST_SLUG)
    .replace(/^-+|-+$/g, "");
}

/**
 * File name of a letter: names in order of the alphabet are letters in order of time (UTC), and
 * the same letter always has the same name. "2026-01-11T03-15-00Z-shut-the-fridge-door-shed-1a2b3c.eml"
 */
export function letterFileName(letter: NewLetter): string {
  const at = new Date(letter.createdAtMs).toISOString().slice(0, 19).replaceAll(":", "-");
  const mark = createHash("sha256").update(letter.id).digest("hex").slice(0, 6);
  return `${[`${at}Z`, slugOf(letter.subject), mark].filter(Boolean).join("-")}.eml`;
}

/**
 * Write a letter into `folder` as one .eml file (RFC 5322), whole or not at all: it is written
 * under another name, flushed, and renamed. A letter that is there already is left alone.
 *
 * @returns the file's path
 * @throws {KnownError} LETTER_NOT_WRITTEN, naming the file and what stood in the way
 */
export async function writeLetterFile(
  letter: NewLetter,
  keepers: readonly string[],
  folder: string,
  draw: DrawPictures = drawNothing,
): Promise<string> {
  const file = join(folder, letterFileName(letter));
  const partial = `${file}.part`;
  try {
    if (existsSync(file)) return file;
    await mkdir(folder, { recursive: true });
    const { message } = await transport.sendMail(
      messageOf(letter, NOBODY, keepers, await draw(letter)),
    );
    const handle = await open(partial, "w", 0o640);
    try {
      await handle.writeFile(message as Buffer);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(partial, file);
    return file;
  } catch (cause) {
    await rm(partial, { force: true }).catch(() => undefined);
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new KnownError(
      "LETTER_NOT_WRITTEN",
      `writing the letter ${file}: ${why}; make the folder writable and the disk not full`,
      { cause },
    );
  }
}
