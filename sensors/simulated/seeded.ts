/** A stream of random numbers that is the same for the same seed; copied by copying `word`. */
export type Seeded = { word: number };

/** Begin a stream. `label` keeps streams of one seed apart, so that one may be drawn from
 * more often without changing what the others say. */
export function seeded(seed: number, label: string): Seeded {
  // FNV-1a over the label, started from the seed; 32-bit arithmetic throughout.
  let word = (seed ^ 0x811c9dc5) >>> 0;
  for (let i = 0; i < label.length; i++) {
    word = Math.imul(word ^ label.charCodeAt(i), 0x01000193) >>> 0;
  }
  return { word };
}

/** Uniform in [0, 1). The 32-bit generator known as mulberry32, in the public domain. */
export function draw(random: Seeded): number {
  random.word = (random.word + 0x6d2b79f5) | 0;
  let mixed = Math.imul(random.word ^ (random.word >>> 15), 1 | random.word);
  mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
  return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
}

/** Uniform from `low` up to `high`. */
export function drawBetween(random: Seeded, low: number, high: number): number {
  return low + (high - low) * draw(random);
}

/** From `low` to `high`, both above 0, each ratio as likely as any other. */
export function drawRatio(random: Seeded, low: number, high: number): number {
  return low * (high / low) ** draw(random);
}

/** Standard normal (Box and Muller, 1958). Takes two numbers from the stream, always. */
export function drawNormal(random: Seeded): number {
  const radius = Math.sqrt(-2 * Math.log(1 - draw(random)));
  return radius * Math.cos(2 * Math.PI * draw(random));
}

/** One of `choices`, which must not be empty. */
export function drawOne<T>(random: Seeded, choices: readonly T[]): T {
  const chosen = choices[Math.floor(draw(random) * choices.length)];
  if (chosen === undefined) throw new RangeError("nothing to choose from");
  return chosen;
}
