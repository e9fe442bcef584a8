/** A place on a drawing, px. */
export type Place = readonly [x: number, y: number];

/** How far a left-out place may lie from the line drawn in its stead, px. */
const LEFT_OUT_WITHIN_PX = 0.5;

/** Parts of a pixel that places are rounded to: tenths for lines, halves for soft areas. */
export type Grain = 10 | 2;

/**
 * Path data through these places: relative and rounded, since a winter has thousands. Rounding
 * does not add up, for each step is taken between rounded places.
 *
 * @param end "z" to close the outline
 */
export function pathData(places: readonly Place[], end: "" | "z" = "", grain: Grain = 10): string {
  const [first, ...rest] = places;
  if (first === undefined) return "";
  let [beforeX, beforeY] = [Math.round(first[0] * grain), Math.round(first[1] * grain)];
  let data = `M${pair(beforeX, beforeY, grain)}`;
  let letter = "l";
  for (const [placeX, placeY] of rest) {
    const [x, y] = [Math.round(placeX * grain), Math.round(placeY * grain)];
    if (x === beforeX && y === beforeY) continue;
    const step = pair(x - beforeX, y - beforeY, grain);
    // After the first "l" further steps need none, only something between two numbers.
    data += letter === "" && step[0] !== "-" ? ` ${step}` : letter + step;
    letter = "";
    [beforeX, beforeY] = [x, y];
  }
  return data + end;
}

function pair(x: number, y: number, grain: Grain): string {
  return y < 0
    ? shortest(x, grain) + shortest(y, grain)
    : `${shortest(x, grain)} ${shortest(y, grain)}`;
}

/** A number of tenths or halves without the nought before the point: "-.5", "12", "3.1". */
function shortest(parts: number, grain: Grain): string {
  const size = Math.abs(parts);
  const whole = Math.floor(size / grain);
  const rest = (size - whole * grain) * (10 / grain);
  const text = rest === 0 ? String(whole) : whole === 0 ? `.${rest}` : `${whole}.${rest}`;
  return parts < 0 && size > 0 ? `-${text}` : text;
}

/**
 * The same line with fewer places: each left out lies within half a pixel, measured upright,
 * of the line drawn in its stead. The first and the last stay.
 *
 * @param places from left to right
 * @param withinPx another distance, for soft areas
 */
export function simplified(places: readonly Place[], withinPx = LEFT_OUT_WITHIN_PX): Place[] {
  const [first, ...rest] = places;
  if (first === undefined) return [];
  const kept = [first];
  let from = first;
  let before: Place | null = null;
  // Slopes from `from` that pass every place since within the tolerance.
  let [lowest, highest] = [-Infinity, Infinity];
  for (const place of rest) {
    const slope = slopeOf(from, place[0], place[1]);
    if (before !== null && !(slope >= lowest && slope <= highest)) {
      kept.push(before);
      from = before;
      [lowest, highest] = [-Infinity, Infinity];
    }
    lowest = Math.max(lowest, slopeOf(from, place[0], place[1] - withinPx));
    highest = Math.min(highest, slopeOf(from, place[0], place[1] + withinPx));
    before = place;
  }
  if (before !== null) kept.push(before);
  return kept;
}

/** NaN straight up or down, which no slope passes. */
function slopeOf([fromX, fromY]: Place, x: number, y: number): number {
  return x > fromX ? (y - fromY) / (x - fromX) : Number.NaN;
}
