import type { DigestMaterial } from "../../../daemon/digest/material.js";
import type { Rollup } from "../../../daemon/store/records.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { QUILLMERE } from "../letters/quillmere.js";

/** Monday 5 January 2026, 00:00 in Quillmere, where winter time is UTC. */
export const MONDAY_MS = Date.UTC(2026, 0, 5);
export const WEEK = { fromMs: MONDAY_MS, toMs: MONDAY_MS + 7 * DAY_MS };

/** One hour of a probe that speaks each minute; `changed` puts other values. */
export function hourOf(
  probeId: string,
  index: number,
  changed: Partial<Rollup> & { meanC?: number; swingC?: number; meanPct?: number | null } = {},
): Rollup {
  const { meanC = 2.2, swingC = 0.4, meanPct = 66, ...other } = changed;
  return {
    probeId,
    fromMs: MONDAY_MS + index * HOUR_MS,
    count: 60,
    temperature: { count: 60, meanC, lowC: meanC - swingC, highC: meanC + swingC },
    humidity:
      meanPct === null ? null : { count: 60, meanPct, lowPct: meanPct - 3, highPct: meanPct + 4 },
    ...other,
  };
}

/** A quiet week of every probe at Quillmere. */
export function quietWeek(changed: Partial<DigestMaterial> = {}): DigestMaterial {
  const indexes = Array.from({ length: 168 }, (_, i) => i);
  const hours = [
    ...indexes.map((i) => hourOf("shed-air", i, { swingC: 1.6 })),
    ...indexes.map((i) => hourOf("shed-box", i, { meanPct: null })),
    ...indexes.map((i) => hourOf("yard", i, { count: 12, meanC: 4, meanPct: 88 })),
  ];
  const lastMs = WEEK.toMs - MINUTE_MS;
  return {
    site: QUILLMERE,
    ...WEEK,
    watchedFromMs: WEEK.fromMs,
    hours,
    lastHeardMs: new Map(QUILLMERE.probes.map(({ id }) => [id, lastMs])),
    standings: [],
    excursions: [],
    letters: [],
    week: null,
    season: null,
    ...changed,
  };
}
