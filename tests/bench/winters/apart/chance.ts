/**
 * A stream of random numbers, the same for the same seed and purpose. `word` and `spare` are all
 * that it remembers, so that a copy of both goes on as the stream itself would.
 */
export type Chance = { word: number; spare: number | null };

/** Numbers drawn at first and thrown away, so that neighbouring seeds part; our choice. */
const THROWN_AWAY = 10;
/** A draw that must lie within limits is tried so often, then its middle is taken; our choice. */
const TRIES = 200;
/** No count drawn is higher; our choice. */
const MOST = 60;

/** Begin a stream. Each purpose has its own, so that drawing more for one changes no other. */
export function beginChance(seed: number, purpose: string): Chance {
  // FNV-1a of 32 bits (Fowler, Noll and Vo), over the seed as digits and the purpose.
  let word = 2_166_136_261;
  for (const letter of `${seed}/${purpose}`)
    word = Math.imul(word ^ letter.charCodeAt(0), 16_777_619) >>> 0;
  const chance: Chance = { word, spare: null };
  for (let i = 0; i < THROWN_AWAY; i++) drawUnit(chance);
  return chance;
}

/** Uniform in [0, 1). The generator known as mulberry32, in the public domain; from memory. */
export function drawUnit(chance: Chance): number {
  chance.word = (chance.word + 0x6d2b79f5) | 0;
  const { word } = chance;
  let mixed = Math.imul(word ^ (word >>> 15), 1 | word);
  mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
  return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
}

/** Standard normal: Box and Muller, 1958. They come in pairs, of which the second is kept. */
export function drawNormal(chance: Chance): number {
  const { spare } = chance;
  if (spare !== null) {
    chance.spare = null;
    return spare;
  }
  const radius = Math.sqrt(-2 * Math.log(1 - drawUnit(chance)));
  const angle = 2 * Math.PI * drawUnit(chance);
  chance.spare = radius * Math.sin(angle);
  return radius * Math.cos(angle);
}

/** Uniform from `low` up to `high`. */
export function drawBetween(chance: Chance, low: number, high: number): number {
  return low + (high - low) * drawUnit(chance);
}

/** From `low` to `high`, both above 0, each ratio as likely as any other. */
export function drawRatio(chance: Chance, low: number, high: number): number {
  return Math.exp(drawBetween(chance, Math.log(low), Math.log(high)));
}

/** Normal about `middle`, drawn anew until it lies from `low` to `high`. */
export function drawAbout(
  chance: Chance,
  middle: number,
  deviation: number,
  low: number,
  high: number,
): number {
  for (let i = 0; i < TRIES; i++) {
    const value = middle + deviation * drawNormal(chance);
    if (value >= low && value <= high) return value;
  }
  return middle;
}

/** Log-normal about `median`, drawn anew until it lies from `low` to `high`, all above 0. */
export function drawRatioAbout(
  chance: Chance,
  median: number,
  deviation: number,
  low: number,
  high: number,
): number {
  return Math.exp(drawAbout(chance, Math.log(median), deviation, Math.log(low), Math.log(high)));
}

/** How many happen where `mean` do on average: Poisson's law, by its sum; up to `MOST`. */
export function drawCount(chance: Chance, mean: number): number {
  const at = drawUnit(chance);
  let likely = Math.exp(-mean);
  let sum = likely;
  let count = 0;
  while (at > sum && count < MOST) {
    count++;
    likely *= mean / count;
    sum += likely;
  }
  return count;
}

/** `value`, or the nearer of the limits. */
export function within(value: number, low: number, high: number): number {
  return Math.max(low, Math.min(value, high));
}
