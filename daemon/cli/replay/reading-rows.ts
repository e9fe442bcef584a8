import type { Reading } from "../../../shared/reading.js";

/** Many readings in little room. */
export type ReadingRows = Readonly<{
  /** @throws {RangeError} beyond 40 million readings */
  add(reading: Reading): void;
  count(): number;
  /** Oldest first; readings of one instant in the order in which they were added. */
  inOrder(): Generator<Reading, void, undefined>;
}>;

/** Time, place of the probe in the list, temperature and humidity; NaN for "not measured". */
const ROW = 4;
/** 1.3 GB; a winter of 4 probes at 10 s has 6 million. */
const MOST_ROWS = 40_000_000;

/** Room for readings of these probes and of no other; an object for each would take thrice that. */
export function openReadingRows(probeIds: readonly string[]): ReadingRows {
  const indexes = new Map(probeIds.map((id, index) => [id, index]));
  let cells = new Float64Array(ROW << 14);
  let count = 0;
  let inOrder = true;
  const add = ({ probeId, takenAtMs, temperatureC, humidityPct }: Reading) => {
    const at = count * ROW;
    if (count >= MOST_ROWS) throw new RangeError(`more than ${MOST_ROWS} readings`);
    if (at === cells.length) {
      const larger = new Float64Array(cells.length * 2);
      larger.set(cells);
      cells = larger;
    }
    if (count > 0 && takenAtMs < cells[at - ROW]!) inOrder = false;
    cells[at] = takenAtMs;
    cells[at + 1] = indexes.get(probeId)!;
    cells[at + 2] = temperatureC ?? Number.NaN;
    cells[at + 3] = humidityPct ?? Number.NaN;
    count += 1;
  };
  const readingAt = (at: number): Reading => ({
    probeId: probeIds[cells[at + 1]!]!,
    takenAtMs: cells[at]!,
    temperatureC: numberOrNull(cells[at + 2]!),
    humidityPct: numberOrNull(cells[at + 3]!),
  });
  function* read(): Generator<Reading, void, undefined> {
    if (inOrder) for (let row = 0; row < count; row++) yield readingAt(row * ROW);
    else for (const row of sortedRows(cells, count)) yield readingAt(row * ROW);
  }
  return { add, count: () => count, inOrder: read };
}

function numberOrNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}

function sortedRows(cells: Float64Array, count: number): Uint32Array {
  const rows = Uint32Array.from({ length: count }, (_, row) => row);
  return rows.sort((a, b) => cells[a * ROW]! - cells[b * ROW]! || a - b);
}
