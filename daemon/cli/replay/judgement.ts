import * as judge from "../../../rules/judge.js";
import { type ChamberFigures, seasonOf } from "../../../rules/season.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";
import { formatRfc3339 } from "../../../shared/rfc3339.js";
import type { Site } from "../../../shared/site.js";
import { MINUTE_MS } from "../../../shared/time.js";

/** The figures of a season for each chamber, by the names the judge gives them. */
export type Summary = Readonly<Record<string, Readonly<Record<string, number | string | null>>>>;

/**
 * Judge readings from nothing, as a watch would have that was told each instant it reached.
 *
 * @param readings in order of time
 * @param tell called with each finding as it is made
 */
export function judgeReadings(
  readings: Iterable<Reading>,
  site: Site,
  tell: (finding: Finding) => void,
): Summary {
  let state = judge.beginJudge(site);
  let lastMs: number | null = null;
  const step = (event: judge.JudgeEvent) => {
    const result = judge.stepJudge(state, event, site);
    state = result.state;
    for (const finding of result.findings) tell(finding);
  };
  for (const reading of readings) {
    const atMs = reading.takenAtMs;
    if (atMs !== lastMs) step({ kind: "tick", atMs });
    lastMs = atMs;
    step({ kind: "reading", reading });
  }
  // The last moment ends after its last reading.
  if (lastMs !== null) step({ kind: "tick", atMs: lastMs + judge.MOMENT_MS });
  return summaryOf(state, site);
}

function summaryOf(state: judge.JudgeState, site: Site): Summary {
  const figures = seasonOf(state, site);
  return Object.fromEntries(figures.map((chamber) => [chamber.chamberId, flat(chamber)]));
}

/** One chamber's figures, each under a name of its own; times are RFC 3339, lags minutes. */
function flat(figures: ChamberFigures): Summary[string] {
  const { chamberId: _, fromMs: __, ...rest } = figures;
  const { cocoonSpanC, reserveDaysSpan, cocoonHumiditySpanPct, wintering, ...others } = rest;
  const { mouldLooked, dryOn, lastDampedMs, cocoonLag, warming, dark, ...plain } = others;
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
    mouldSeen: mouldLooked === null ? null : mouldLooked.seen ? "yes" : "no",
    dryOn: at(dryOn?.atMs),
    dryOnBasis: dryOn?.basis ?? null,
    lastDampedAt: at(lastDampedMs),
    cocoonLagMin: cocoonLag && cocoonLag.ms / MINUTE_MS,
    cocoonLagFrom: cocoonLag?.from ?? null,
    warmingMin: warming && warming.ms / MINUTE_MS,
    warmingFrom: warming?.from ?? null,
    darkHours: dark?.hours ?? null,
    darkColdestC: dark?.cocoonSpanC?.low ?? null,
    darkWarmestC: dark?.cocoonSpanC?.high ?? null,
  };
}
