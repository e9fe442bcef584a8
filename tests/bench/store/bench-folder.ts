import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Chamber, Place, Probe, Site } from "../../../shared/site.js";

const CHAMBERS: readonly Chamber[] = ["shed", "attic"].map((id) => ({
  id,
  species: "osmia-bicornis",
  bandC: { low: 1.1, high: 3.3 },
  humidityBandPct: { low: 60, high: 70 },
  cocoonLagMs: null,
}));

const probe = (id: string, chamberId: string | null, place: Place): Probe => ({
  id,
  chamberId,
  place,
  intervalMs: 10_000,
});

/** Probes of the invented allotment. */
export const PROBES: readonly Probe[] = [
  probe("shed-air", "shed", "air"),
  probe("shed-box", "shed", "box"),
  probe("shed-wall", "shed", "wall"),
  probe("attic-air", "attic", "air"),
  probe("attic-box", "attic", "box"),
  probe("yard", null, "outdoors"),
];

/** The site measured; in UTC, so that SQL over raw rows can find its days too. */
export const SITE: Site = {
  name: "Quillmere shed",
  timezone: "UTC",
  chambers: CHAMBERS,
  probes: PROBES,
};

/** First instant of the season measured. */
export const START_MS = Date.UTC(2026, 10, 1);

/** Work in a folder that goes afterwards; DROWSE_BENCH_FOLDER says where it is made. */
export function inFolder<T>(work: (folder: string) => T): T {
  const folder = mkdtempSync(join(process.env.DROWSE_BENCH_FOLDER ?? tmpdir(), "drowse-bench-"));
  try {
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
