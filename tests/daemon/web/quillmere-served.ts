import { mkdtempSync, rmSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openStore, type Store } from "../../../daemon/store/store.js";
import { openApp } from "../../../daemon/web/app.js";
import type { PageConfig } from "../../../daemon/web/page.js";
import { MINUTE_MS } from "../../../shared/time.js";
import { keepWinter, QUILLMERE } from "../../quillmere-winter.js";
import { YEAR_RULES } from "../../year-rules.js";

/** Pages of an October at Quillmere, on a real socket. */
export type QuillmereServed = Readonly<{
  store: Store;
  nowMs: number;
  /** Where they are, without a slash at the end. */
  base: string;
  close(): Promise<void>;
}>;

/** The door is left ajar in the thirteenth day, and stands open an hour later still. */
const DAYS = 12.64;

const CONFIG: PageConfig = {
  site: QUILLMERE,
  sources: QUILLMERE.probes.map(({ id }) => ({
    probeId: id,
    topic: `quillmere/shed/${id}`,
    payload: "json",
    temperature: "/temperature",
    humidity: "/humidity",
    time: null,
    unit: "C",
    quantity: "temperature",
  })),
  temperatureUnit: "C",
  mail: null,
  keepers: ["keeper@quillmere.example"],
  ...YEAR_RULES,
};

/** Keep the October and serve it; the one who asks closes it. */
export async function serveQuillmere(passphrase: string | null = null): Promise<QuillmereServed> {
  const folder = mkdtempSync(join(tmpdir(), "drowse-pages-"));
  const store = openStore(folder, QUILLMERE);
  const nowMs = keepWinter(store, DAYS, CONFIG.keepers) + MINUTE_MS;
  const app = openApp({
    config: CONFIG,
    page: { host: "127.0.0.1", names: [], passphrase },
    store,
    clock: { nowMs: () => nowMs, monotonicMs: () => 0 },
    log: { info: () => {}, warn: () => {}, error: (facts) => console.error(facts) },
    steadyMs: () => performance.now(),
  });
  await app.listen({ host: "127.0.0.1", port: 0 });
  const { port } = app.server.address() as AddressInfo;
  const close = async () => {
    await app.close();
    store.close();
    rmSync(folder, { recursive: true, force: true });
  };
  return { store, nowMs, base: `http://127.0.0.1:${port}`, close };
}
