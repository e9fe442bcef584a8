/** The course turns where it has come back by so much, K; our choice. */
const TURN_K = 0.3;
/** Where no whole cycle was seen it is taken to be smaller than what turns; our choice. */
const UNSEEN_HALF_CYCLE_K = 0.15;

/** A turn of the course; null where it is not known from where it came. */
type Turn = Readonly<{ top: boolean; atC: number }> | null;

/**
 * Half of the middle swing between a top and the bottom beside it, K.
 *
 * @param valuesC one a minute
 * @param isCalm whether nothing but the compressor moved the air in a minute; a swing that is not
 *   calm throughout does not count
 */
export function halfCycleOf(
  valuesC: readonly number[],
  isCalm: (minute: number) => boolean,
): number {
  const turns = turnsOf(valuesC, isCalm);
  const halves = turns.flatMap((turn, i) => {
    const before = turns[i - 1];
    if (!turn || !before || turn.top === before.top) return [];
    return [Math.abs(turn.atC - before.atC) / 2];
  });
  halves.sort((a, b) => a - b);
  return halves[halves.length >> 1] ?? UNSEEN_HALF_CYCLE_K;
}

function turnsOf(valuesC: readonly number[], isCalm: (minute: number) => boolean): Turn[] {
  const turns: Turn[] = [];
  let highC = Number.NEGATIVE_INFINITY;
  let lowC = Number.POSITIVE_INFINITY;
  let goes: "up" | "down" | null = null;
  valuesC.forEach((c, minute) => {
    if (!isCalm(minute)) {
      goes = null;
      highC = Number.NEGATIVE_INFINITY;
      lowC = Number.POSITIVE_INFINITY;
      return;
    }
    highC = Math.max(highC, c);
    lowC = Math.min(lowC, c);
    if (goes !== "down" && c < highC - TURN_K) {
      turns.push(goes === "up" ? { top: true, atC: highC } : null);
      goes = "down";
      lowC = c;
    } else if (goes !== "up" && c > lowC + TURN_K) {
      turns.push(goes === "down" ? { top: false, atC: lowC } : null);
      goes = "up";
      highC = c;
    }
  });
  return turns;
}
