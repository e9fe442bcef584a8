import type { AddressInfo } from "node:net";
import { openDraft } from "../../../daemon/journal/draft.js";
import type { Typed } from "../../../daemon/journal/fields.js";
import { cocoonSeriesId } from "../../../shared/site.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { madeCheck } from "../checks/made-checks.js";
import { QUILLMERE } from "../letters/quillmere.js";
import { commitReadings } from "../store/temporary-store.js";
import { type Served, servePages } from "./served.js";

/** A Friday in spring at Quillmere, in whose shed one lot has lain since November. */
export const SPRING_MS = Date.UTC(2026, 3, 3, 14, 30, 20);

const LOTS: readonly Typed[] = [
  {
    lot: "hedge-2025",
    large: "80",
    small: "120",
    origin: "the hedge",
    harvested: "2025-10-04",
    box: "A1",
    warm_days: "33",
    chamber: "shed",
    in: "2025-11-01",
    words: 'said to be <b>"early"</b>',
  },
];

const DEEDS: readonly Typed[] = [
  { deed: "weighed", lot: "hedge-2025", mass_g: "3.21", cocoons: "30", on: "2025-11-01" },
  { deed: "damped", on: "2026-03-01" },
  { deed: "inspected", saw: "mould mites", on: "2026-03-15", words: "lowest layer" },
  { deed: "weighed", lot: "hedge-2025", mass_g: "3.06", on: "2026-03-15" },
  { deed: "opened", lot: "hedge-2025", cocoons: "20", parasitised: "2", on: "2026-03-15" },
  { deed: "aired", on: "2026-03-16", corrects: "3" },
  { deed: "bloom", on: "2026-04-01", words: "plum" },
];

/** Pages over that spring, listening on a port of their own; closed with the test. */
export async function serveYear(): Promise<Served & Readonly<{ base: string }>> {
  const served = servePages({ nowMs: SPRING_MS });
  const { store, app } = served;
  const site = QUILLMERE;
  const fromMs = Date.UTC(2025, 10, 1, 12);
  const hours = Math.floor((SPRING_MS - fromMs) / HOUR_MS);
  const cocoons = Array.from({ length: hours }, (_, i) => ({
    probeId: cocoonSeriesId("shed"),
    takenAtMs: fromMs + i * HOUR_MS,
    temperatureC: 2 + Math.sin(i / 9),
    humidityPct: 66,
  }));
  const outdoors = [9, 14.2, 15, 16].map((temperatureC, i) => ({
    probeId: "yard",
    takenAtMs: Date.UTC(2026, 2, 31, 13) + i * DAY_MS,
    temperatureC,
    humidityPct: null,
  }));
  commitReadings(store, [...cocoons, ...outdoors]);
  store.checks.add(madeCheck(0.1, { madeAtMs: Date.UTC(2025, 9, 30, 10) }));
  store.journal.write(SPRING_MS, (journal) => {
    const draft = openDraft(site, journal, SPRING_MS);
    const faults = [...LOTS.map(draft.addLot), ...DEEDS.map(draft.addEntry)];
    if (faults.some((fault) => fault !== null)) throw new Error(JSON.stringify(faults));
    return draft.batch();
  });
  await app.listen({ host: "127.0.0.1", port: 0 });
  const { port } = app.server.address() as AddressInfo;
  return { ...served, base: `http://127.0.0.1:${port}` };
}
