import { chmodSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";

export { mailTo, PLAIN } from "./plain-config.js";

/** A folder that is gone after the test. */
export function testFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "drowse-test-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Write files into a folder of their own; a name that begins with "secret" gets mode 600. */
export function writeFiles(files: Readonly<Record<string, string>>): string {
  const folder = testFolder();
  for (const [name, text] of Object.entries(files)) {
    writeFileSync(join(folder, name), text);
    chmodSync(join(folder, name), name.startsWith("secret") ? 0o600 : 0o644);
  }
  return folder;
}
