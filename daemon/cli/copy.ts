import { statSync } from "node:fs";
import { join, resolve } from "node:path";
import { systemClock } from "../clock.js";
import { loadConfig } from "../config.js";
import { makeCopy } from "../copies/make-copy.js";
import { openStore } from "../store/store.js";

/**
 * Copy the store, beside a Drowse that keeps: into the copies folder, or into one file.
 *
 * @throws {KnownError} what `makeCopy` and `Store.copyTo` throw
 */
export async function copy(
  configFile: string,
  target: string | undefined,
  options: Readonly<{ json?: boolean }>,
): Promise<void> {
  const { store: settings, site } = loadConfig(configFile, { readSecrets: false });
  const store = openStore(settings.folder, site, { mode: "look" });
  try {
    let file = target === undefined ? null : resolve(target);
    if (file !== null) await store.copyTo(file);
    else {
      const { folder, copiesFolder } = settings;
      const storeFile = join(folder, "drowse.db");
      const ports = { store, file: storeFile, folder: copiesFolder, timezone: site.timezone };
      file = await makeCopy(ports, systemClock.nowMs());
    }
    const { size } = statSync(file);
    const text = `Copied and checked: ${file}, ${(size / 1e6).toFixed(1)} MB.\n`;
    const json = `${JSON.stringify({ file, bytes: size })}\n`;
    process.stdout.write(options.json === true ? json : text);
  } finally {
    store.close();
  }
}
