import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { PACE_FILE } from "../../../daemon/rehearsal/fast-clock.js";
import { openStore, type Store } from "../../../daemon/store/store.js";
import { keepWinter, QUILLMERE } from "../../quillmere-winter.js";

const probe = (place: string) => `
[[probe]]
id = "shed-${place}"
chamber = "shed"
place = "${place}"
topic = "quillmere/shed/${place}"
payload = "json"
temperature = "/temperature"
humidity = "/humidity"
interval_s = 120
`;

const CONFIG = `
[site]
name = "Quillmere shed"
timezone = "Europe/London"
keepers = ["keeper@example.org"]
[broker]
embedded = "127.0.0.1:1883"
[[chamber]]
id = "shed"
${probe("air")}${probe("box")}`;

/** A folder with a config and a kept winter, whose clock stands where the winter ends. */
export type KeptWinter = Readonly<{ folder: string; nowMs: number; remove: () => void }>;

/**
 * Keep the first days of Quillmere's winter, from 1 October 2026 on, into a folder of its own.
 *
 * @param more writes into the store beside it
 */
export function makeKeptWinter(days: number, more: (store: Store) => void = () => {}): KeptWinter {
  const folder = mkdtempSync(join(tmpdir(), "drowse-winter-"));
  writeFileSync(join(folder, "drowse.toml"), CONFIG);
  const state = join(folder, "state");
  const store = openStore(state, QUILLMERE);
  const nowMs = keepWinter(store, days);
  more(store);
  store.close();
  const pace = { fromMs: nowMs, atMs: 0, speed: 1, stoodAtMs: nowMs };
  writeFileSync(join(state, PACE_FILE), JSON.stringify(pace));
  return { folder, nowMs, remove: () => rmSync(folder, { recursive: true, force: true }) };
}
