import type { Course, Piece } from "./material.js";

/** A moment and a value. */
export type Moment = readonly [atMs: number, value: number];

/** Pieces that lie apart by less than this were measured without a break. */
const MEETS_WITHIN_MS = 1_000;

/** A course in unbroken runs. */
export function runsOf(course: Course): Piece[][] {
  const runs: Piece[][] = [];
  for (const piece of course) {
    const run = runs.at(-1);
    if (run !== undefined && piece.fromMs - run.at(-1)!.toMs < MEETS_WITHIN_MS) run.push(piece);
    else runs.push([piece]);
  }
  return runs;
}

/** The part of a course within [fromMs, toMs); pieces across an end are cut there. */
export function courseWithin(course: Course, fromMs: number, toMs: number): Piece[] {
  // A winter is asked for by month, by week and by day, so that walking all of it adds up.
  const first = countBefore(course, (piece) => piece.toMs <= fromMs);
  const end = countBefore(course, (piece) => piece.fromMs < toMs);
  return course
    .slice(first, end)
    .map((piece) =>
      piece.fromMs >= fromMs && piece.toMs <= toMs
        ? piece
        : { ...piece, fromMs: Math.max(piece.fromMs, fromMs), toMs: Math.min(piece.toMs, toMs) },
    );
}

/** How many pieces at the beginning of a course are so; after the first that is not, none is. */
function countBefore(course: Course, isSo: (piece: Piece) => boolean): number {
  let [from, to] = [0, course.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (isSo(course[middle]!)) from = middle + 1;
    else to = middle;
  }
  return from;
}

/**
 * The same course in pieces of `lengthMs` counted from `fromMs`: lowest low, highest high, mean
 * weighted by time. None spans a gap.
 */
export function coarsened(course: Course, fromMs: number, lengthMs: number): Piece[] {
  const coarse: { -readonly [Key in keyof Piece]: Piece[Key] }[] = [];
  let index = Number.NaN;
  let weight = 0;
  for (const piece of course) {
    const own = Math.floor((piece.fromMs - fromMs) / lengthMs);
    const long = piece.toMs - piece.fromMs;
    const last = coarse.at(-1);
    const isApart = last === undefined || piece.fromMs - last.toMs >= MEETS_WITHIN_MS;
    if (isApart || own !== index) {
      coarse.push({ ...piece });
      [index, weight] = [own, long];
      continue;
    }
    last.toMs = piece.toMs;
    last.low = Math.min(last.low, piece.low);
    last.high = Math.max(last.high, piece.high);
    last.mean = (last.mean * weight + piece.mean * long) / (weight + long);
    weight += long;
  }
  return coarse;
}

/** A run as a line: each piece's value at its middle, drawn out to both ends of the run. */
export function lineOf(run: readonly Piece[], read: (piece: Piece) => number): Moment[] {
  const [first, last] = [run[0], run.at(-1)];
  if (first === undefined || last === undefined) return [];
  return [
    [first.fromMs, read(first)],
    ...run.map((piece) => [(piece.fromMs + piece.toMs) / 2, read(piece)] as const),
    [last.toMs, read(last)],
  ];
}

/**
 * The parts of a line that lie beyond an edge, each as a line that begins and ends on the edge.
 * The area between such a part and the edge is degree-hours, where the line is a temperature.
 */
export function beyond(line: readonly Moment[], edge: number, side: "above" | "below"): Moment[][] {
  const over = (value: number) => (side === "above" ? value - edge : edge - value);
  const parts: Moment[][] = [];
  let part: Moment[] | null = null;
  for (let i = 0; i < line.length; i++) {
    const here = line[i]!;
    const before = line[i - 1];
    const isOver = over(here[1]) > 0;
    if (isOver && part === null) {
      part = [before === undefined ? [here[0], edge] : crossing(before, here, edge)];
      parts.push(part);
    }
    if (isOver) part!.push(here);
    else if (part !== null) {
      part.push(crossing(before!, here, edge));
      part = null;
    }
  }
  if (part !== null) part.push([line.at(-1)![0], edge]);
  return parts;
}

function crossing([fromMs, from]: Moment, [toMs, to]: Moment, edge: number): Moment {
  return [fromMs + ((toMs - fromMs) * (edge - from)) / (to - from), edge];
}
