import type { AddressInfo } from "node:net";
import type { Store } from "../daemon/store/store.js";
import { openApp } from "../daemon/web/app.js";
import type { PageConfig } from "../daemon/web/page.js";
import type { Site } from "../shared/site.js";
import { YEAR_RULES } from "./year-rules.js";

/** The config that pages read, of a site whose sensors say all they measure in JSON. */
export function pageConfig(site: Site): PageConfig {
  return {
    site,
    sources: site.probes.map(({ id }) => ({
      probeId: id,
      topic: `quillmere/${id}`,
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
}

/** Pages on a port of their own on this machine. */
export type PageSocket = Readonly<{
  port: number;
  /** Where they are, without a slash at the end. */
  base: string;
  close(): Promise<void>;
}>;

/** Serve the pages of a store; who calls it closes both. */
export async function openPageSocket(
  store: Store,
  config: PageConfig,
  nowMs: () => number,
  passphrase: string | null = null,
): Promise<PageSocket> {
  const app = openApp({
    config,
    page: { host: "127.0.0.1", names: [], passphrase },
    store,
    clock: { nowMs, monotonicMs: () => performance.now() },
    log: { info: () => {}, warn: () => {}, error: (facts) => console.error(facts) },
    steadyMs: () => performance.now(),
  });
  await app.listen({ host: "127.0.0.1", port: 0 });
  const { port } = app.server.address() as AddressInfo;
  return { port, base: `http://127.0.0.1:${port}`, close: () => app.close() };
}
