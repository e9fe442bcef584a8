import { statSync } from "node:fs";
import { resolve } from "node:path";
import { systemClock } from "../clock.js";
import { type Config, loadConfig } from "../config.js";
import { makeCopy } from "../copies/make-copy.js";
import { storeFileIn } from "../store/database-file.js";
import { openStore, type Store } from "../store/store.js";

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
  const config = loadConfig(configFile, { readSecrets: false });
  const store = openStore(config.store.folder, config.site, { mode: "look" });
  try {
    const file = target === undefined ? await copyOfDay(store, config) : resolve(target);
    if (target !== undefined) await store.copyTo(file);
    const { size } = statSync(file);
    const text = `Copied and checked: ${file}, ${(size / 1e6).toFixed(1)} MB.\n`;
    const json = `${JSON.stringify({ file, bytes: size })}\n`;
    process.stdout.write(options.json === true ? json : text);
  } finally {
    store.close();
  }
}

function copyOfDay(store: Store, { store: settings, site }: Config): Promise<string> {
  const { folder, copiesFolder } = settings;
  const file = storeFileIn(folder);
  const ports = { store, file, folder: copiesFolder, timezone: site.timezone };
  return makeCopy(ports, systemClock.nowMs());
}
