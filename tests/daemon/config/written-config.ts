import { chmodSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";

/** A config in which every key that must be there is, and nothing else. */
export const PLAIN = `[site]
name = "Quillmere shed"
timezone = "Europe/London"
keepers = ["keeper@quillmere.example"]

[broker]
embedded = "127.0.0.1:0"

[[chamber]]
id = "shed"

[[probe]]
id = "shed-air"
chamber = "shed"
place = "air"
topic = "quillmere/shed/air"
payload = "number"
`;

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
