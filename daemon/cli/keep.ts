import { systemClock } from "../clock.js";
import { loadConfig } from "../config.js";
import { keepOn } from "../keep/lasting-keep.js";
import { setRehearsalAside } from "../rehearsal/leftovers.js";
import { openLog } from "./log-lines.js";
import { untilStopped } from "./until-stopped.js";

/** Keep watch until the process is told to stop. Logs to stderr. */
export async function keep(configFile: string): Promise<void> {
  const config = loadConfig(configFile);
  const log = openLog();
  const aside = setRehearsalAside(config.store.folder);
  if (aside !== null) log.info({ aside }, "a rehearsal lay in the store's folder; moved it aside");
  if (config.site.probes.length === 0)
    log.warn({}, "no [[probe]] in the config yet; drowse hear writes entries to paste");
  await keepOn(config, { clock: systemClock, log }, untilStopped());
}
