import { stringify } from "csv-stringify/sync";
import { formatRfc3339 } from "../../../shared/rfc3339.js";
import type { StretchFigures } from "../../season/review.js";
import type { Season } from "../../season/season.js";

const COLUMNS = [
  "chamber",
  "part",
  "from",
  "to",
  "seen_h",
  "unseen_h",
  "in_band_share",
  "coldest_c",
  "warmest_c",
  "mean_kinetic_c",
  "degree_hours_above",
  "degree_hours_below",
  "reserve_days",
  "reserve_days_low",
  "reserve_days_high",
  "humidity_low_pct",
  "humidity_mean_pct",
  "humidity_high_pct",
  "damp_share",
  "dry_share",
  "openings",
  "excursions",
];

/** Seasons' figures as CSV (RFC 4180): the whole, each month and each week. Always °C. */
export function seasonsCsv(seasons: readonly Season[]): string {
  const rows = seasons.flatMap(({ chamber, review }) => [
    rowOf(chamber.id, "whole", review.whole),
    ...review.months.map((month) => rowOf(chamber.id, "month", month)),
    ...review.weeks().map((week) => rowOf(chamber.id, "week", week)),
  ]);
  return stringify(rows, { header: true, columns: COLUMNS, record_delimiter: "windows" });
}

function rowOf(chamberId: string, part: string, one: StretchFigures): (string | number | null)[] {
  return [
    chamberId,
    part,
    formatRfc3339(one.fromMs),
    formatRfc3339(one.toMs),
    rounded(one.seenHours, 2),
    rounded(one.unseenHours, 2),
    rounded(one.inBandShare, 4),
    rounded(one.cocoonSpanC?.low, 2),
    rounded(one.cocoonSpanC?.high, 2),
    rounded(one.meanKineticC, 3),
    rounded(one.degreeHoursAbove, 2),
    rounded(one.degreeHoursBelow, 2),
    rounded(one.reserveDays, 3),
    rounded(one.reserveDaysSpan?.low, 3),
    rounded(one.reserveDaysSpan?.high, 3),
    rounded(one.humiditySpanPct?.low, 1),
    rounded(one.humidityMeanPct, 1),
    rounded(one.humiditySpanPct?.high, 1),
    rounded(one.dampShare, 4),
    rounded(one.dryShare, 4),
    one.openings,
    one.excursions,
  ];
}

/** An empty cell is "not known". */
function rounded(value: number | null | undefined, digits: number): number | null {
  return value === null || value === undefined ? null : Number(value.toFixed(digits));
}
