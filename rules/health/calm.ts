/**
 * A stretch in which a probe kept to one or two neighbouring values of each quantity.
 *
 * A value that lies between two steps of a probe flickers from one to the other for days, and then
 * rests on one of them as soon as it has moved by less than a step; so flickering is no sign that a
 * value moves.
 */
export type Calm = Readonly<{
  sinceMs: number;
  lowC: number | null;
  highC: number | null;
  lowPct: number | null;
  highPct: number | null;
  /** The finest steps seen, K and %RH; 0 before one. */
  stepK: number;
  stepPct: number;
}>;

type Said = Readonly<{ saidC: number | null; saidPct: number | null; saidAtMs: number }>;

/** Two values so many steps apart are neighbours; leaves room for what rounding does to them. */
const NEIGHBOURS = 1.5;

/**
 * The calm as it goes on with a new value, or a new one from `atMs` on.
 *
 * @param last what the probe said before
 */
export function goOnCalm(
  calm: Calm | null,
  last: Said,
  saidC: number | null,
  saidPct: number | null,
  atMs: number,
): Calm {
  const stepK = finer(calm === null ? 0 : calm.stepK, last.saidC, saidC);
  const stepPct = finer(calm === null ? 0 : calm.stepPct, last.saidPct, saidPct);
  if (calm !== null) {
    const lowC = lower(calm.lowC, saidC);
    const highC = higher(calm.highC, saidC);
    const lowPct = lower(calm.lowPct, saidPct);
    const highPct = higher(calm.highPct, saidPct);
    if (isNear(lowC, highC, stepK) && isNear(lowPct, highPct, stepPct))
      return { sinceMs: calm.sinceMs, lowC, highC, lowPct, highPct, stepK, stepPct };
  }
  return {
    sinceMs: atMs,
    lowC: saidC,
    highC: saidC,
    lowPct: saidPct,
    highPct: saidPct,
    stepK,
    stepPct,
  };
}

/** How long a calm has lasted by an instant, ms. */
export const calmLastedMs = (calm: Calm | null, atMs: number): number =>
  calm === null ? 0 : Math.max(0, atMs - calm.sinceMs);

function finer(step: number, last: number | null, now: number | null): number {
  if (last === null || now === null || last === now) return step;
  const seen = Math.abs(now - last);
  return step === 0 || seen < step ? seen : step;
}

const lower = (one: number | null, other: number | null): number | null =>
  one === null ? other : other === null || one < other ? one : other;
const higher = (one: number | null, other: number | null): number | null =>
  one === null ? other : other === null || one > other ? one : other;

const isNear = (low: number | null, high: number | null, step: number): boolean =>
  low === null || high === null || high - low <= NEIGHBOURS * step;
