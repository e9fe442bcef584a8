import type { Look } from "../../../daemon/drawing/look.js";
import type { ExcursionMark, Piece, WinterMaterial } from "../../../daemon/drawing/material.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";

/** 1 December 2026, midnight at Quillmere. */
export const DECEMBER_MS = Date.UTC(2026, 11, 1);

export const LOOK: Look = {
  widthPx: 1000,
  timezone: "Europe/London",
  unit: "C",
  hourCycle: "h23",
  idPrefix: "sheet",
  hrefOf: null,
};

/** Hours at these means, from December on, each reaching `reach` up and down. */
export function hours(means: readonly number[], reach = 0.1): Piece[] {
  return means.map((mean, i) => ({
    fromMs: DECEMBER_MS + i * HOUR_MS,
    toMs: DECEMBER_MS + (i + 1) * HOUR_MS,
    low: mean - reach,
    mean,
    high: mean + reach,
  }));
}

/** December at 2.2 °C and 65 %RH, with what is given in its place. */
export function december(changed: Partial<WinterMaterial> = {}): WinterMaterial {
  const span = { fromMs: DECEMBER_MS, toMs: DECEMBER_MS + 31 * DAY_MS };
  return {
    siteName: "Quillmere shed",
    chamberId: "shed",
    bandC: { low: 1.1, high: 3.3 },
    humidityBandPct: { low: 60, high: 70 },
    span,
    watched: span,
    cocoons: hours(Array.from({ length: 31 * 24 }, () => 2.2)),
    isReckoned: false,
    humidity: hours(Array.from({ length: 31 * 24 }, () => 65)),
    unseen: [],
    excursions: [],
    openingsMs: [],
    defrostsMs: [],
    annotations: [],
    ...changed,
  };
}

/** A door left ajar on the evening of 3 December. */
export function doorMark(changed: Partial<ExcursionMark> = {}): ExcursionMark {
  const startedAtMs = DECEMBER_MS + 2 * DAY_MS + 20 * HOUR_MS;
  return {
    id: "shed/door-ajar/1",
    cause: "door-ajar",
    probeId: null,
    urgency: "rush",
    startedAtMs,
    endedAtMs: startedAtMs + 130 * 60_000,
    cocoonSpanC: { low: 2, high: 6.4 },
    cost: {
      degreeHoursAbove: 3.4,
      degreeHoursBelow: 0,
      reserveDays: 0.12,
      wetHours: null,
      mouldIndex: null,
    },
    ...changed,
  };
}
