import { shareWords } from "../../digest/reason-words.js";
import { courseWithin } from "../../drawing/course-runs.js";
import type { Look } from "../../drawing/look.js";
import { type Note, notesOf } from "../../drawing/notes.js";
import { monthRows, placeMonths, type Row } from "../../drawing/sheet-rows.js";
import { inBandShare } from "../../drawing/stave.js";
import { excursionWords, shortMomentWords } from "../../drawing/words.js";
import { oneLine } from "../../letters/one-line.js";
import { reviewFigures, reviewHeading, reviewName } from "../../season/review-words.js";
import type { Season } from "../../season/season.js";
import { layTable } from "../table.js";
import { brokenInto, layFigures } from "./text-figures.js";
import { staveLines, TEXT_LEGEND } from "./text-stave.js";

const WIDTH = 76;
const MOST_NOTES = 12;

type Reading = Pick<Look, "timezone" | "unit" | "hourCycle">;

/** The review of one chamber's season, for a terminal. */
export function showSeason(season: Season, look: Reading): string {
  const { material, chamber } = season;
  const months = monthRows(material.watched, chamber.id, look).map((row) =>
    showMonth(season, row, look),
  );
  const heading = reviewHeading(season, look.timezone);
  return [
    `${heading}\n${"=".repeat(Math.min(WIDTH, heading.length))}`,
    layFigures(reviewFigures(season, look), WIDTH),
    ...months,
    TEXT_LEGEND,
  ].join("\n\n");
}

function showMonth({ material }: Season, row: Row, look: Reading): string {
  const { fromMs, toMs } = row.span;
  const share = inBandShare(courseWithin(material.cocoons, fromMs, toMs), material.bandC);
  const beside = share === null ? "not seen" : `in band ${shareWords(share)}`;
  const begun = material.excursions.filter(
    ({ startedAtMs }) => startedAtMs >= fromMs && startedAtMs < toMs,
  );
  const done = material.annotations.filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
  const { notes, left } = notesOf(begun, done, MOST_NOTES);
  return [
    row.heading + beside.padStart(WIDTH - row.heading.length),
    ...staveLines(material, row),
    ...notes.flatMap((note) => noteLines(note, look)),
    ...(left > 0 ? [`     ${left} more are not listed.`] : []),
  ].join("\n");
}

function noteLines(note: Note, look: Reading): string[] {
  const [key, what] =
    "excursion" in note
      ? [note.key, excursionWords(note.excursion, look.unit)]
      : ["-", oneLine(note.annotation.text, 120)];
  const words = `${shortMomentWords(note.atMs, look)}: ${what}`;
  const margin = 5;
  return brokenInto(words, WIDTH - margin).map(
    (line, i) => (i === 0 ? `  ${key}  ` : " ".repeat(margin)) + line,
  );
}

/** Two seasons of one chamber side by side: figures in two columns, months under each other. */
export function showBeside(seasons: readonly Season[], look: Reading): string {
  const names = seasons.map((season) => reviewName(season, look.timezone));
  const figures = seasons.map((season) => reviewFigures(season, look));
  const labels = [...new Set(figures.flat().map(({ label }) => label))];
  const rows = labels.map((label) => [
    label,
    ...figures.map((one) => one.find((figure) => figure.label === label)?.value ?? ""),
  ]);
  const headings = seasons.map((season) => reviewHeading(season, look.timezone));
  return [
    headings.join("\n"),
    layTable(["", ...names], rows),
    showMonths(seasons, look),
    TEXT_LEGEND,
  ].join("\n\n");
}

function showMonths(seasons: readonly Season[], look: Reading): string {
  const columns = seasons.map(({ material, chamber }) =>
    monthRows(material.watched, chamber.id, look).map((row) => {
      const [month = "", year = ""] = row.heading.split(" ");
      const [cocoons = ""] = staveLines(material, row);
      const line = `${month.slice(0, 3)} ${year}  ${cocoons.replace(/^cocoons +/, "")}`;
      return { monthMs: row.span.fromMs, line };
    }),
  );
  return columns
    .flatMap((column) => placeMonths(column, columns, look.timezone))
    .toSorted((a, b) => a.place - b.place)
    .map(({ line, place }, i, all) => (i > 0 && place !== all[i - 1]!.place ? `\n${line}` : line))
    .join("\n");
}
