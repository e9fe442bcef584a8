import { shareWords } from "../digest/reason-words.js";
import type { Look } from "../drawing/look.js";
import { monthWords, shortDayWords } from "../drawing/words.js";
import { numberWords, spanWords, type TemperatureUnit } from "../letters/temperature-words.js";
import type { StretchFigures } from "./review.js";

/** A table in words: the first column heads its row; the others are numbers. */
export type ReviewTable = Readonly<{
  caption: string;
  columns: readonly Readonly<{ head: string; kind?: "number" }>[];
  rows: readonly (readonly string[])[];
}>;

type Reading = Pick<Look, "timezone" | "unit" | "hourCycle">;

/** The months of a winter as a table: what its sheet shows, in figures. */
export function tableOfMonths(months: readonly StretchFigures[], look: Reading): ReviewTable {
  const name = ({ fromMs }: StretchFigures) => monthWords(fromMs, look);
  return tableOf("The winter by month", "Month", months, name, look);
}

/** The weeks of a winter, or of a month, as a table. */
export function tableOfWeeks(weeks: readonly StretchFigures[], look: Reading): ReviewTable {
  const name = ({ fromMs, toMs }: StretchFigures) =>
    `${shortDayWords(fromMs, look)} to ${shortDayWords(toMs - 1, look)}`;
  return tableOf("Week by week", "Week", weeks, name, look);
}

function tableOf(
  caption: string,
  first: string,
  stretches: readonly StretchFigures[],
  nameOf: (stretch: StretchFigures) => string,
  { unit }: Reading,
): ReviewTable {
  const heads = [
    "In band",
    `Cocoons, °${unit}`,
    `Above, °${unit}·h`,
    `Below, °${unit}·h`,
    "Reserve, days",
    "Humidity, %",
    "Damper",
    "Drier",
    "Openings",
    "Excursions",
    "Not seen, h",
  ];
  return {
    caption,
    columns: [{ head: first }, ...heads.map((head) => ({ head, kind: "number" as const }))],
    rows: stretches.map((stretch) => [nameOf(stretch), ...cellsOf(stretch, unit)]),
  };
}

function cellsOf(stretch: StretchFigures, unit: TemperatureUnit): string[] {
  const { cocoonSpanC, humiditySpanPct } = stretch;
  const known = (value: number | null, words: (value: number) => string) =>
    value === null ? "" : words(value);
  const degreeHours = (value: number) => numberWords(unit === "F" ? value * 1.8 : value, 1);
  return [
    known(stretch.inBandShare, shareWords),
    cocoonSpanC === null ? "" : spanWords(cocoonSpanC, unit).replace(/ °.$/, ""),
    degreeHours(stretch.degreeHoursAbove),
    degreeHours(stretch.degreeHoursBelow),
    known(stretch.reserveDays, (days) => numberWords(days, 1)),
    humiditySpanPct === null
      ? ""
      : `${numberWords(humiditySpanPct.low, 0)} to ${numberWords(humiditySpanPct.high, 0)}`,
    known(stretch.dampShare, shareWords),
    known(stretch.dryShare, shareWords),
    String(stretch.openings),
    String(stretch.excursions),
    numberWords(stretch.unseenHours, 0),
  ];
}
