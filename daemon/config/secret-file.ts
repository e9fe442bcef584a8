import { readFileSync, statSync } from "node:fs";

/** What a secret file held, or why it cannot be used. */
export type Secret = Readonly<{ text: string } | { fault: string }>;

/** Longer than any password; a path to a device or a log must not fill the memory. */
const MOST_BYTES = 64 * 1024;

/**
 * Read a file that holds one secret on its first line.
 *
 * Refused by name, with the cure, when it is missing, empty or open to others than its owner.
 */
export function readSecret(file: string): Secret {
  const whole = readWholeSecret(file);
  if ("fault" in whole) return whole;
  const text = whole.text.split(/\r?\n/)[0]!;
  return text.trim() === "" ? { fault: emptiness(file) } : { text };
}

/** Likewise, for a file that is a secret as a whole, such as a key. */
export function readWholeSecret(file: string): Secret {
  try {
    const stat = statSync(file);
    if (!stat.isFile()) return { fault: `${file} is not a file` };
    if (stat.size > MOST_BYTES) return { fault: `${file} is too large to hold a secret` };
    if (process.platform !== "win32" && (stat.mode & 0o077) !== 0)
      return {
        fault: `${file} can be read by others than its owner (mode ${octal(stat.mode)}); chmod 600 ${file}`,
      };
    const text = readFileSync(file, "utf8");
    return text.trim() === "" ? { fault: emptiness(file) } : { text };
  } catch (cause) {
    const code = (cause as NodeJS.ErrnoException).code;
    if (code === "ENOENT")
      return { fault: `no file ${file}; write the secret into it, then chmod 600 ${file}` };
    if (code === "EACCES")
      return { fault: `${file} cannot be read by this user; chown it to the user Drowse runs as` };
    return { fault: `${file} cannot be read: ${(cause as Error).message}` };
  }
}

const emptiness = (file: string) => `${file} is empty; write the secret on its first line`;

function octal(mode: number): string {
  return (mode & 0o777).toString(8).padStart(3, "0");
}
