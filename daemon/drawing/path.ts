/** A place on a drawing, px. */
export type Place = readonly [x: number, y: number];

/** How far a left-out place may lie from the line drawn in its stead, px. */
const LEFT_OUT_WITHIN_PX = 0.3;

/**
 * Path data through these places: relative and in tenths of a pixel, since a winter has thousands.
 * Rounding does not add up, for each step is taken between rounded places.
 *
 * @param end "z" to close the outline
 */
export function pathData(places: readonly Place[], end: "" | "z" = ""): string {
  const [first, ...rest] = places.map(
    ([x, y]) => [Math.round(x * 10), Math.round(y * 10)] as const,
  );
  if (first === undefined) return "";
  let [beforeX, beforeY] = first;
  let data = `M${pair(beforeX, beforeY)}`;
  let letter = "l";
  for (const [x, y] of rest) {
    const [stepX, stepY] = [x - beforeX, y - beforeY];
    if (stepX === 0 && stepY === 0) continue;
    const step = pair(stepX, stepY);
    // After the first "l" further steps need none, only something between two numbers.
    data += letter + (letter === "" && !step.startsWith("-") ? ` ${step}` : step);
    letter = "";
    [beforeX, beforeY] = [x, y];
  }
  return data + end;
}

function pair(xTenths: number, yTenths: number): string {
  const y = tenths(yTenths);
  return `${tenths(xTenths)}${y.startsWith("-") ? "" : " "}${y}`;
}

const tenths = (value: number): string => String(value / 10).replace(/^(-?)0\./, "$1.");

/**
 * The same line with fewer places: each left out lies within a third of a pixel, measured upright,
 * of the line drawn in its stead. The first and the last stay.
 *
 * @param places from left to right
 */
export function simplified(places: readonly Place[]): Place[] {
  const kept: Place[] = [];
  let from: Place | null = null;
  let before: Place | null = null;
  let [lowest, highest] = [-Infinity, Infinity];
  for (const place of places) {
    if (from === null) {
      kept.push(place);
      from = place;
      continue;
    }
    const run = place[0] - from[0];
    const slope = (y: number) => (run > 0 ? (y - from![1]) / run : Math.sign(y - from![1]) * 1e9);
    const direct = slope(place[1]);
    if (before !== null && (direct < lowest || direct > highest)) {
      kept.push(before);
      from = before;
      const stepRun = place[0] - from[0];
      [lowest, highest] = slopesWithin(place, from, stepRun);
    } else {
      const [low, high] = slopesWithin(place, from, run);
      [lowest, highest] = [Math.max(lowest, low), Math.min(highest, high)];
    }
    before = place;
  }
  if (before !== null) kept.push(before);
  return kept;
}

/** The slopes from one place that pass another within the tolerance. */
function slopesWithin([, y]: Place, [, fromY]: Place, run: number): [number, number] {
  if (run <= 0) return [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  return [(y - LEFT_OUT_WITHIN_PX - fromY) / run, (y + LEFT_OUT_WITHIN_PX - fromY) / run];
}
