import { formatRfc3339 } from "../../shared/rfc3339.js";
import { HOUR_MS } from "../../shared/time.js";
import type { Config } from "../config.js";
import { hasCopies, type Recovery, recoverStore } from "../copies/recover.js";
import { type KeepPorts, startKeep } from "../keep.js";
import { composeRecovered } from "../letters/compose-recovered.js";
import { contextOf } from "../mail/context-of.js";
import { isDamage, isHeadDamage } from "../store/failures.js";
import { openStore } from "../store/store.js";

/** A store damaged again so soon is a card that is dying: stop, rather than wear it out. */
const RECOVER_AGAIN_MS = HOUR_MS;

/**
 * Keep watch until `stopped`. A store that is found damaged is put aside, the newest sound copy
 * takes its place, the keepers are told, and the watch goes on.
 *
 * @throws {KnownError} what `startKeep` throws, and STORE_DAMAGED when it is found damaged for
 *   the second time within an hour
 */
export async function keepOn(
  config: Config,
  ports: KeepPorts,
  stopped: Promise<void>,
): Promise<void> {
  let recoveredAtMs = -Infinity;
  for (;;) {
    try {
      const damage = await keepOnce(config, ports, stopped);
      if (damage === null) return;
      throw damage;
    } catch (error) {
      const nowMs = ports.clock.monotonicMs();
      if (!isMended(error, config) || nowMs - recoveredAtMs < RECOVER_AGAIN_MS) throw error;
      recoveredAtMs = nowMs;
      ports.log.error(
        { error: String(error) },
        "the store is damaged; putting a copy in its place",
      );
      recover(config, ports);
    }
  }
}

/** Keep until told to stop (null), or until the store is found damaged. */
async function keepOnce(
  config: Config,
  ports: KeepPorts,
  stopped: Promise<void>,
): Promise<unknown> {
  let tell = (_error: unknown): void => {};
  const damaged = new Promise<unknown>((resolve) => {
    tell = resolve;
  });
  const keeping = await startKeep(config, { ...ports, onDamaged: tell });
  const end = await Promise.race([stopped.then(() => null), damaged]);
  await keeping.close();
  return end;
}

/** A file that is no database any more was ours if there are copies of it. */
function isMended(error: unknown, { store }: Config): boolean {
  return isDamage(error) || (isHeadDamage(error) && hasCopies(store.copiesFolder));
}

function recover(config: Config, { clock, log }: KeepPorts): void {
  const { folder, copiesFolder } = config.store;
  const atMs = clock.nowMs();
  const stamp = formatRfc3339(atMs).replace(/[-:]/g, "");
  const { aside, copy }: Recovery = recoverStore(folder, copiesFolder, stamp);
  log.warn({ aside, copy }, "the damaged store lies aside");
  const store = openStore(folder, config.site);
  try {
    const copiedAtMs = copy === null ? null : (store.judge.load()?.atMs ?? null);
    const recovered = { atMs, copiedAtMs, damagedFile: aside };
    const letter = composeRecovered(recovered, contextOf(config, store, atMs));
    store.letters.queue(letter, config.keepers);
  } finally {
    store.close();
  }
}
