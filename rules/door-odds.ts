import { MINUTE_MS } from "../shared/time.js";
import type { Known } from "./acquaintance.js";
import type { Habit } from "./cycle.js";
import { type DoorSigns, doorSigns } from "./door-signs.js";
import { BRISK_DRY, BRISK_HUMID, SLOW_DRY, SLOW_HUMID } from "./door-weights.js";
import type { Rise } from "./rise.js";

/** How one sign is brought to a common measure, and what it counts for. */
type SignWeights = Readonly<{
  sign: keyof DoorSigns;
  mean: number;
  spread: number;
  /** By itself, as log odds for each spread. */
  alone: number;
  /** In each of the mixtures. */
  mixed: readonly number[];
}>;

/** A weighing of signs: by themselves, and in mixtures that say what several mean together. */
export type Weighing = Readonly<{
  base: number;
  signs: readonly SignWeights[];
  mixtureBases: readonly number[];
  mixtures: readonly number[];
  /** From so many minutes after the onset on, the log odds that ask for a letter. */
  asks: readonly Readonly<{ fromMin: number; odds: number }>[];
}>;

/** Samples further apart come from a slow probe, min. */
export const SLOW_PROBE_MIN = 2.5;
/** No sign counts for more than it does so many spreads from its mean. */
const SPREADS_MOST = 4;

/**
 * How much likelier a door left open is than anything harmless, as log odds beyond what asks for
 * a letter; above zero it is told. Sure only of a rise that has not turned.
 */
export function doorLogOdds(rise: Rise, known: Known, habit: Habit | null): number {
  const minutes = (rise.before[rise.before.length - 1]!.atMs - rise.onsetMs) / MINUTE_MS;
  const isDry = rise.baseHpa === null;
  const isSlow = minutes / rise.samples > SLOW_PROBE_MIN;
  const weighing = isSlow ? (isDry ? SLOW_DRY : SLOW_HUMID) : isDry ? BRISK_DRY : BRISK_HUMID;
  const asked = weighing.asks.findLast((ask) => ask.fromMin <= minutes);
  if (asked === undefined) return Number.NEGATIVE_INFINITY;
  return weigh(weighing, doorSigns(rise, known, habit)) - asked.odds;
}

function weigh(weighing: Weighing, signs: DoorSigns): number {
  const sums = weighing.mixtureBases.slice();
  let odds = weighing.base;
  for (const { sign, mean, spread, alone, mixed } of weighing.signs) {
    const off = (signs[sign] - mean) / spread;
    const value = Math.min(SPREADS_MOST, Math.max(-SPREADS_MOST, off));
    odds += alone * value;
    for (let k = 0; k < mixed.length; k++) sums[k]! += mixed[k]! * value;
  }
  for (const [k, sum] of sums.entries()) odds += weighing.mixtures[k]! * Math.tanh(sum);
  return odds;
}
