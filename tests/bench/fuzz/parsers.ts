import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileParsers } from "./files.js";
import type { Fuzzed } from "./fuzzed.js";
import { MESSAGE_PARSERS } from "./messages.js";
import { pageParsers } from "./pages.js";

/** Every parser of bytes from outside; those of files read them from a folder of their own. */
export function openParsers(): Readonly<{ all: readonly Fuzzed[]; close(): Promise<void> }> {
  const folder = mkdtempSync(join(tmpdir(), "drowse-fuzz-"));
  const pages = pageParsers(folder);
  return {
    all: [...MESSAGE_PARSERS, ...fileParsers(folder), ...pages.parsers],
    close: async () => {
      await pages.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
