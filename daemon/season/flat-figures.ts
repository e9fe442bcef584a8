import type { ChamberFigures } from "../../rules/season.js";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import { MINUTE_MS } from "../../shared/time.js";

/** Figures by name, each a number or a word; null where it is not known. */
export type FlatFigures = Readonly<Record<string, number | string | null>>;

/** One chamber's figures of a season for programs: times are RFC 3339, lags minutes. */
export function flatFigures(figures: ChamberFigures): FlatFigures {
  const { chamberId: _, fromMs: __, ...rest } = figures;
  const { cocoonSpanC, reserveDaysSpan, cocoonHumiditySpanPct, wintering, ...others } = rest;
  const { mouldLooked, dryOn, lastDampedMs, cocoonLag, warming, dark, wetSpells, ...plain } =
    others;
  const lastWet = wetSpells.at(-1);
  const at = (ms: number | null | undefined) => (ms == null ? null : formatRfc3339(ms));
  return {
    ...plain,
    coldestC: cocoonSpanC?.low ?? null,
    warmestC: cocoonSpanC?.high ?? null,
    reserveDaysLow: reserveDaysSpan?.low ?? null,
    reserveDaysHigh: reserveDaysSpan?.high ?? null,
    winteringVerdict: wintering?.verdict ?? null,
    winteringSpeaks: wintering?.speaks ?? null,
    matrixVerdict: wintering?.matrix ?? null,
    steadyC: wintering?.steadyC ?? null,
    cocoonHumidityLowPct: cocoonHumiditySpanPct?.low ?? null,
    cocoonHumidityHighPct: cocoonHumiditySpanPct?.high ?? null,
    lastWetAt: at(lastWet?.fromMs),
    lastWetOn: lastWet?.surface ?? null,
    lastWetMin: lastWet === undefined ? null : lastWet.wetMs / MINUTE_MS,
    lastWetFilmGPerM2: lastWet?.mostGPerM2 ?? null,
    lastWetAfter: lastWet?.after ?? null,
    mouldSeen: mouldLooked === null ? null : mouldLooked.seen ? "yes" : "no",
    dryOn: at(dryOn?.atMs),
    dryOnBasis: dryOn?.basis ?? null,
    lastDampedAt: at(lastDampedMs),
    cocoonLagMin: cocoonLag && cocoonLag.ms / MINUTE_MS,
    cocoonLagLowMin: cocoonLag && cocoonLag.spanMs.low / MINUTE_MS,
    cocoonLagHighMin: cocoonLag && cocoonLag.spanMs.high / MINUTE_MS,
    cocoonLagFrom: cocoonLag?.from ?? null,
    warmingMin: warming && warming.ms / MINUTE_MS,
    warmingLowMin: warming && warming.spanMs.low / MINUTE_MS,
    warmingHighMin: warming && warming.spanMs.high / MINUTE_MS,
    warmingFrom: warming?.from ?? null,
    darkHours: dark?.hours ?? null,
    darkColdestC: dark?.cocoonSpanC?.low ?? null,
    darkWarmestC: dark?.cocoonSpanC?.high ?? null,
  };
}
